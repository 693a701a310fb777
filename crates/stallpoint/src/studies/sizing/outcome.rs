//! What a search found.

use super::options::Rule;
use crate::report::{Check, maybe, percent};

/// What became of a candidate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Every requirement is met.
    Fits,
    /// Nothing is broken, but something could not be checked; never counts as fitting.
    Unproven,
    /// A requirement is broken, or the drive cannot be made.
    Rejected,
}

impl std::fmt::Display for State {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::Fits => "fits",
            Self::Unproven => "unproven",
            Self::Rejected => "rejected",
        })
    }
}

/// One combination of the choices.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// What was chosen, by name, in the order of the choices.
    pub names: Vec<String>,
    /// Sum of the prices; none when one is missing.
    pub price: Option<f64>,
    /// Mass of the conductors and of what the rows add, kg; NaN when the drive cannot be made.
    pub mass: f64,
    /// What became of it.
    pub state: State,
    /// The least margin of its requirements, relative; none when none has one.
    pub margin: Option<f64>,
    /// The worst check of each requirement, with its corner.
    pub checks: Vec<Check>,
    /// Why it cannot be made or run at all, when so.
    pub failure: Option<String>,
    /// Whether its transients were made.
    pub run: bool,
}

impl Candidate {
    /// Requirements that are broken, worst first.
    pub fn broken(&self) -> Vec<&Check> {
        let mut broken: Vec<&Check> = self.checks.iter().filter(|check| check.broken()).collect();
        broken.sort_by(|a, b| a.worse_first(b));
        broken
    }

    /// Requirements that could not be checked.
    pub fn not_checked(&self) -> Vec<&Check> {
        self.checks.iter().filter(|check| !check.broken() && !check.met()).collect()
    }

    /// Which requirements broke, by how much and in which corner, one sentence each; or why it cannot be made.
    pub fn reasons(&self) -> Vec<String> {
        let broken = self.broken().into_iter().map(|check| {
            let found = maybe(check.value, check.unit);
            let limit = maybe(check.limit, check.unit);
            let by = check.margin.map_or_else(String::new, |margin| format!(", {} beyond", percent(-margin)));
            let corner = check.corner.as_deref().unwrap_or("as described");
            format!("{}: {found} against {limit}{by} ({}; {}; {corner})", check.requirement, check.verdict, check.when)
        });
        self.failure.iter().cloned().chain(broken).collect()
    }
}

/// The result of a search.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Names of the choices.
    pub choices: Vec<String>,
    /// Every combination, the first choice slowest.
    pub candidates: Vec<Candidate>,
    /// Those that fit or are unproven and that no other beats in price, mass and margin at once.
    pub pareto: Vec<usize>,
    /// The best by the rule of those that fit; where none does, of those that are unproven.
    pub best: Option<usize>,
    /// The rule.
    pub rule: Rule,
    /// What is to be known before the candidates are read: requirements that all of them break, data that they lack.
    pub notes: Vec<String>,
    /// How many candidates times corners were judged.
    pub cases: usize,
    /// How many different circuits were run.
    pub circuits: usize,
    /// How many transients that took.
    pub transients: usize,
}

impl Outcome {
    /// Those in a state.
    pub fn in_state(&self, state: State) -> impl Iterator<Item = (usize, &Candidate)> {
        self.candidates.iter().enumerate().filter(move |(_, candidate)| candidate.state == state)
    }

    /// The best, if there is one.
    pub fn best(&self) -> Option<&Candidate> {
        self.best.and_then(|best| self.candidates.get(best))
    }

    /// What it comes to, in one line, with the notes.
    pub fn summary(&self) -> String {
        let count = |state| self.in_state(state).count();
        let best = match self.best() {
            Some(best) if best.state == State::Unproven => {
                let missing: Vec<String> = best.not_checked().iter().map(|check| check.key.to_string()).collect();
                format!(
                    "nothing speaks against {}, but it is not proven: {}",
                    best.names.join(" / "),
                    missing.join(", ")
                )
            }
            Some(best) => format!("best: {}", best.names.join(" / ")),
            None => "none fits".into(),
        };
        format!(
            "{} candidates: {} fit, {} unproven, {} rejected; {best} (rule: {})",
            self.candidates.len(),
            count(State::Fits),
            count(State::Unproven),
            count(State::Rejected),
            self.rule
        ) + &self.notes.iter().map(|note| format!("; {note}")).collect::<String>()
    }
}

/// Those of `eligible` that no other beats: none is as good in everything and better in something.
pub(super) fn pareto(candidates: &[Candidate], eligible: &[usize]) -> Vec<usize> {
    // Smaller is better in each.
    let figures = |k: usize| {
        let candidate = &candidates[k];
        [candidate.price.unwrap_or(0.0), candidate.mass, -candidate.margin.unwrap_or(0.0)]
    };
    let beats = |a: usize, b: usize| {
        let (a, b) = (figures(a), figures(b));
        a.iter().zip(&b).all(|(a, b)| a <= b) && a != b
    };
    eligible.iter().copied().filter(|&own| !eligible.iter().any(|&other| beats(other, own))).collect()
}

/// The best of `eligible` by a rule.
pub(super) fn best(candidates: &[Candidate], eligible: &[usize], rule: Rule) -> Option<usize> {
    let priced = eligible.iter().all(|&k| candidates[k].price.is_some());
    let figures = |k: usize| {
        let candidate = &candidates[k];
        let margin = -candidate.margin.unwrap_or(0.0);
        match rule {
            Rule::LeastCost if priced => [candidate.price.unwrap_or(0.0), margin],
            Rule::LeastCost | Rule::LeastCopper => [candidate.mass, margin],
            Rule::LargestMargin => [margin, candidate.mass],
        }
    };
    let order = |a: &usize, b: &usize| {
        let (first, second) = (figures(*a), figures(*b));
        first[0].total_cmp(&second[0]).then(first[1].total_cmp(&second[1])).then(a.cmp(b))
    };
    eligible.iter().copied().min_by(order)
}
