//! P1c by every solver: search of the best options, then all of them by turns.

use crate::contestant::{Dice, Set, Who};
use crate::ida;
use crate::p1::unknowns::N;
use crate::p1::{Drive, Reference, Variant, rest};

/// Errors that a run must not exceed.
pub const TARGETS: [f64; 4] = [1e-3, 1e-4, 1e-5, 1e-6];

/// The best set of options that a solver has for a target, and what it measured.
pub struct Line {
    pub who: Who,
    pub target: f64,
    pub set: Set,
    pub error: f64,
    pub steps: u64,
    pub rejected: u64,
    pub rescues: u32,
    pub median: f64,
    pub least: f64,
}

/// What the search saw of one solver.
pub struct Search {
    pub who: Who,
    pub drawn: usize,
    pub failed: usize,
    /// Runs that came to their end but with other events than the reference's, or other arcs.
    pub astray: usize,
}

pub struct Result {
    pub lines: Vec<Line>,
    pub searches: Vec<Search>,
    /// Largest difference of the tight run of the second coding from the reference, and of event times.
    pub agreement: (f64, f64),
    pub rounds: usize,
}

type Start = (Drive, [f64; N]);

/// The fastest sets that keep to each target; the five fastest of the draw run three times more.
fn search(who: Who, start: &Start, reference: &Reference, drawn: usize) -> (Search, Vec<Line>) {
    let mut dice = Dice::new();
    let mut seen = Search { who, drawn, failed: 0, astray: 0 };
    let mut tried = Vec::new();
    for _ in 0..drawn {
        let set = who.draw(&mut dice);
        let ran = set.run(start);
        if ran.failure.is_some() {
            seen.failed += 1;
        } else if ran.arcs != 5 || ran.events.len() != reference.events.len() {
            seen.astray += 1;
        } else {
            tried.push((set, ran.error(reference).max, ran.seconds));
        }
    }
    tried.sort_by(|a, b| a.2.total_cmp(&b.2));
    let mut lines = Vec::new();
    for target in TARGETS {
        let close = tried.iter().filter(|(_, error, _)| *error <= target).take(5);
        let again = close.map(|(set, error, seconds)| {
            let least = (0..3).map(|_| set.run(start).seconds).fold(*seconds, f64::min);
            (set, *error, least)
        });
        if let Some((set, error, _)) = again.min_by(|a, b| a.2.total_cmp(&b.2)) {
            let ran = set.run(start);
            let (steps, rejected, rescues) = (ran.steps, ran.rejected, ran.rescues);
            lines.push(Line {
                who,
                target,
                set: *set,
                error,
                steps,
                rejected,
                rescues,
                median: f64::NAN,
                least: f64::NAN,
            });
        }
    }
    (seen, lines)
}

/// The second coding of the problem at a tight tolerance against the reference.
fn agreement(reference: &Reference) -> (f64, f64) {
    let Some(mut session) = ida::Session::open(&ida::Options::TIGHT) else { return (f64::INFINITY, f64::INFINITY) };
    let ran = session.run();
    let late = ran.events.iter().zip(&reference.events).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    (ran.error(reference).max, late)
}

/// Searches and measures.
pub fn measure(drawn: usize, rounds: usize) -> Result {
    let start = rest(Variant::P1C).expect("P1c has a solution at rest");
    let reference = Reference::p1c();
    let agreement = agreement(&reference);
    let (mut searches, mut lines) = (Vec::new(), Vec::new());
    for who in Who::ALL {
        eprintln!("searching options of {}", who.name());
        let (seen, best) = search(who, &start, &reference, drawn);
        searches.push(seen);
        lines.extend(best);
    }
    eprintln!("measuring {} sets by turns", lines.len());
    let mut times = vec![Vec::new(); lines.len()];
    for _ in 0..rounds {
        for (line, times) in lines.iter().zip(&mut times) {
            times.push(line.set.run(&start).seconds);
        }
    }
    for (line, times) in lines.iter_mut().zip(&mut times) {
        line.median = median(times);
        line.least = times[0];
    }
    Result { lines, searches, agreement, rounds }
}

pub fn median(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}
