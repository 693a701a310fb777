//! The order in which a schedule walks its pivots: near in memory, alike in shape.
//!
//! Any order in which each pivot comes after those that update it gives the same factors but for rounding. Chosen here is
//! one that finishes a branch before it starts the next, cut into chunks that stay in the cache, and within a chunk
//! pivots of one shape in a row, so that the processor need not guess the lengths of loops.

use std::collections::VecDeque;

use super::schedule::{Block, SMALL};

/// Pivots in a chunk. Own choice by measurement.
const CHUNK: usize = 2048;
/// Work of a multiply-subtract by index, and of a place of the dense square in loading and solving, against one in the
/// square; fewest rows of a square. Own choices by measurement.
const INDEXED: f64 = 5.0;
const PLACE: f64 = 3.0;
const SMALLEST: usize = 12;

/// Pivots of equal shape that follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Run {
    pub(super) shape: Block,
    pub(super) count: u32,
}

/// How many of the last steps are better kept as a dense square: as many as makes the work least.
pub(super) fn dense_tail(blocks: &[Block]) -> usize {
    // Work before the square less that of all steps one by one, against the square's.
    let (mut saved, mut best) = (0.0, (0.0, 0));
    for (size, block) in (1..).zip(blocks.iter().rev()) {
        saved += INDEXED * (block.updates() + block.len()) as f64;
        let m = size as f64;
        let gain = saved - m * m * (m / 3.0 + PLACE);
        if size >= SMALLEST && gain > best.0 {
            best = (gain, size);
        }
    }
    best.1
}

/// Orders the steps before the dense ones; `later[starts[k]..starts[k + 1]]` are the steps that must come after step `k`.
pub(super) fn arrange(blocks: &[Block], later: &[u32], starts: &[u32]) -> Vec<u32> {
    let n = blocks.len();
    let after = |k: usize| later[starts[k] as usize..starts[k + 1] as usize].iter().filter(|&&m| (m as usize) < n);
    if n <= SMALL {
        // The processor learns so few lengths by heart, and the analysis took care of who waits for whom.
        return (0..n as u32).collect();
    }
    if n <= CHUNK {
        return by_shape(&(0..n as u32).collect::<Vec<_>>(), blocks, after);
    }
    let order = by_branch(n, after);
    order.chunks(CHUNK).flat_map(|chunk| by_shape(chunk, blocks, after)).collect()
}

/// Depth first: each step right after the last of those before it.
fn by_branch<'a, I: Iterator<Item = &'a u32>>(n: usize, after: impl Fn(usize) -> I) -> Vec<u32> {
    let mut starts = vec![0u32; n + 2];
    for k in 0..n {
        after(k).for_each(|&m| starts[m as usize + 2] += 1);
    }
    for m in 0..n {
        starts[m + 2] += starts[m + 1];
    }
    let mut before = vec![0u32; starts[n + 1] as usize];
    let mut last = vec![true; n];
    for k in 0..n {
        for &m in after(k) {
            last[k] = false;
            before[starts[m as usize + 1] as usize] = k as u32;
            starts[m as usize + 1] += 1;
        }
    }
    let (mut order, mut seen, mut stack) = (Vec::with_capacity(n), vec![false; n], Vec::new());
    for root in (0..n).filter(|&k| last[k]) {
        stack.push((root as u32, starts[root]));
        seen[root] = true;
        while let Some((m, next)) = stack.last_mut() {
            if *next == starts[*m as usize + 1] {
                order.push(*m);
                stack.pop();
                continue;
            }
            let k = before[*next as usize];
            *next += 1;
            if !seen[k as usize] {
                seen[k as usize] = true;
                stack.push((k, starts[k as usize]));
            }
        }
    }
    order
}

/// Among the steps that wait for no other of the chunk: those of the present shape while there are any, then those of the
/// commonest. First in, first out, so that neighbours seldom wait for each other.
fn by_shape<'a, I: Iterator<Item = &'a u32>>(chunk: &[u32], blocks: &[Block], after: impl Fn(usize) -> I) -> Vec<u32> {
    let mut shapes: Vec<Block> = chunk.iter().map(|&k| blocks[k as usize]).collect();
    shapes.sort_unstable();
    shapes.dedup();
    let mut sorted: Vec<(u32, u32)> = chunk.iter().zip(0..).map(|(&k, at)| (k, at)).collect();
    sorted.sort_unstable();
    let local = |m: u32| sorted.binary_search_by_key(&m, |pair| pair.0).ok().map(|at| sorted[at].1 as usize);
    let mut waits = vec![0u32; chunk.len()];
    for &k in chunk {
        after(k as usize).filter_map(|&m| local(m)).for_each(|m| waits[m] += 1);
    }
    let mut ready = vec![VecDeque::new(); shapes.len()];
    let shape_of: Vec<usize> =
        chunk.iter().map(|&k| shapes.binary_search(&blocks[k as usize]).unwrap_or_default()).collect();
    for at in (0..chunk.len()).filter(|&at| waits[at] == 0) {
        ready[shape_of[at]].push_back(at);
    }
    let (mut order, mut present) = (Vec::with_capacity(chunk.len()), 0);
    while order.len() < chunk.len() {
        if ready[present].is_empty() {
            present = (0..shapes.len()).max_by_key(|&shape| ready[shape].len()).unwrap_or_default();
        }
        let Some(at) = ready[present].pop_front() else { break };
        let k = chunk[at];
        order.push(k);
        for m in after(k as usize).filter_map(|&m| local(m)) {
            waits[m] -= 1;
            if waits[m] == 0 {
                ready[shape_of[m]].push_back(m);
            }
        }
    }
    order
}

/// Joins equal neighbours.
pub(super) fn runs(blocks: impl Iterator<Item = Block>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for shape in blocks {
        match runs.last_mut() {
            Some(run) if run.shape == shape => run.count += 1,
            _ => runs.push(Run { shape, count: 1 }),
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_every_step_comes_after_those_before_it() {
        // A tree of 5,000 steps, three chunks: each step before its parent, two numbers up to fifty further on.
        let n = 5000;
        let later: Vec<u32> = (0..n as u32 - 1).flat_map(|k| [(k + 1 + k * k % 50).min(n as u32 - 1); 2]).collect();
        let starts: Vec<u32> = (0..=n as u32).map(|k| (2 * k).min(later.len() as u32)).collect();
        let blocks: Vec<Block> = (0..n as u32).map(|k| Block { upper: k % 3, lower: k % 2 }).collect();
        let order = arrange(&blocks, &later, &starts);
        let mut at = vec![usize::MAX; n];
        order.iter().enumerate().for_each(|(place, &k)| at[k as usize] = place);
        assert!(at.iter().all(|&place| place < n), "every step once");
        assert!((0..n - 1).all(|k| at[k] < at[later[2 * k] as usize]));
        let runs = runs(order.iter().map(|&k| blocks[k as usize]));
        assert!(runs.len() < n / 4, "{}", runs.len());
    }

    #[test]
    fn exact_dense_tail_of_a_full_corner() {
        let line = std::iter::repeat_n(Block { upper: 1, lower: 1 }, 100);
        let corner = (0..20).rev().map(|k| Block { upper: k, lower: k });
        let blocks: Vec<_> = line.chain(corner).collect();
        assert!((20..24).contains(&dense_tail(&blocks)), "{}", dense_tail(&blocks));
        assert_eq!(dense_tail(&blocks[..100]), 0);
    }
}
