//! Sentences that hold in both directions are said once.

/// Merges what is said of "forward" with what is said of "reverse" in the same words.
pub(crate) fn both_ways(sentences: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut said: Vec<(String, bool)> = Vec::new();
    for sentence in sentences {
        let forward = sentence.replacen("reverse", "forward", 1);
        match said.iter_mut().find(|(known, _)| sentence != forward && *known == forward) {
            Some((_, both)) => *both = true,
            None => said.push((sentence, false)),
        }
    }
    let merged = |(words, both): (String, bool)| match both {
        true => words.replacen("forward", "forward and reverse", 1),
        false => words,
    };
    said.into_iter().map(merged).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_only_the_same_words_merge() {
        let words = ["forward: 3 s", "other", "reverse: 3 s", "forward: 4 s", "reverse: 5 s"].map(String::from);
        assert_eq!(both_ways(words), ["forward and reverse: 3 s", "other", "forward: 4 s", "reverse: 5 s"]);
    }
}
