//! Rows or columns sorted by how many entries they still have.

pub(super) const NONE: u32 = u32::MAX;

/// First-in first-out lists of lines by count; every operation takes constant time.
///
/// First-in first-out eliminates a tree breadth-first, which leaves neighbouring pivots independent
/// of each other: the processor overlaps their divisions.
pub(super) struct Buckets {
    heads: Vec<u32>,
    tails: Vec<u32>,
    next: Vec<u32>,
    previous: Vec<u32>,
    /// Bucket of each line, `NONE` once removed for good.
    bucket: Vec<u32>,
}

impl Buckets {
    /// Puts line `i` into bucket `counts[i]`.
    pub(super) fn new(counts: &[u32]) -> Self {
        let n = counts.len();
        let mut buckets = Self {
            heads: vec![NONE; n + 1],
            tails: vec![NONE; n + 1],
            next: vec![NONE; n],
            previous: vec![NONE; n],
            bucket: vec![NONE; n],
        };
        for (line, &count) in counts.iter().enumerate() {
            buckets.push(line, count);
        }
        buckets
    }

    pub(super) fn first(&self, count: usize) -> u32 {
        self.heads[count]
    }

    pub(super) fn next(&self, line: u32) -> u32 {
        self.next[line as usize]
    }

    /// Moves a line to the end of another bucket; removed lines stay removed.
    pub(super) fn place(&mut self, line: usize, count: u32) {
        let old = self.bucket[line];
        if old != NONE && old != count {
            self.unlink(line, old);
            self.push(line, count);
        }
    }

    /// Takes a line out for good.
    pub(super) fn remove(&mut self, line: usize) {
        let old = self.bucket[line];
        if old != NONE {
            self.unlink(line, old);
            self.bucket[line] = NONE;
        }
    }

    /// Smallest line that is still in some bucket.
    pub(super) fn any(&self) -> Option<usize> {
        self.bucket.iter().position(|&bucket| bucket != NONE)
    }

    fn push(&mut self, line: usize, count: u32) {
        let tail = self.tails[count as usize];
        self.bucket[line] = count;
        self.next[line] = NONE;
        self.previous[line] = tail;
        if tail == NONE {
            self.heads[count as usize] = line as u32;
        } else {
            self.next[tail as usize] = line as u32;
        }
        self.tails[count as usize] = line as u32;
    }

    fn unlink(&mut self, line: usize, count: u32) {
        let (before, after) = (self.previous[line], self.next[line]);
        if before == NONE {
            self.heads[count as usize] = after;
        } else {
            self.next[before as usize] = after;
        }
        if after == NONE {
            self.tails[count as usize] = before;
        } else {
            self.previous[after as usize] = before;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(buckets: &Buckets, count: usize) -> Vec<u32> {
        let mut out = Vec::new();
        let mut line = buckets.first(count);
        while line != NONE {
            out.push(line);
            line = buckets.next(line);
        }
        out
    }

    #[test]
    fn exact_lists_after_moves() {
        let mut buckets = Buckets::new(&[1, 2, 1, 1]);
        assert_eq!(list(&buckets, 1), [0, 2, 3]);
        buckets.place(2, 2);
        buckets.remove(0);
        buckets.place(0, 2);
        assert_eq!(list(&buckets, 1), [3]);
        assert_eq!(list(&buckets, 2), [1, 2]);
        assert_eq!(buckets.any(), Some(1));
    }
}
