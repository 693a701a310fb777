//! Which guards fire, how often and in which order.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{Cause, Ending, Options, SolveError};

type GuardFn = fn(t: f64, x: f64) -> f64;

/// `x' = 1` watched by some guards; each fires once, unless it is to fire for ever.
#[derive(Clone)]
struct Watched {
    guards: Vec<GuardFn>,
    spent: Vec<bool>,
    for_ever: bool,
    fired: Vec<(usize, f64)>,
    stop: Option<f64>,
}

impl Watched {
    fn by(guards: &[GuardFn]) -> Problem<Self> {
        let spent = vec![false; guards.len()];
        Problem::new(Self { guards: guards.to_vec(), spent, for_ever: false, fired: Vec::new(), stop: None })
    }
}

impl Model for Watched {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = -1.0;
    }

    fn guard_count(&self) -> usize {
        self.guards.len()
    }

    fn guards(&self, t: f64, x: &[f64], out: &mut [f64]) {
        for (i, guard) in self.guards.iter().enumerate() {
            out[i] = if self.spent[i] { -1.0 } else { guard(t, x[0]) };
        }
    }

    fn next_stop(&self) -> Option<f64> {
        self.stop
    }

    fn fire(&mut self, cause: Cause, t: f64, _x: &mut [f64]) {
        if let Cause::Guard(i) = cause {
            self.fired.push((i, t));
            self.spent[i] = !self.for_ever;
        }
    }
}

#[test]
fn exact_a_guard_that_rises_and_falls_inside_one_step_is_seen() {
    // x is a straight line, so the first step would cover the whole span; the guard is above zero for 0.002 of it.
    let guard: GuardFn = |_, x| 1e-6 - (x - 0.37) * (x - 0.37);
    let mut problem = Watched::by(&[guard]);
    problem.run((0.0, 1.0), &[0.0], &Options { first_step: Some(1.0), ..rtol(1e-4) }).unwrap();
    assert_eq!(problem.model.fired.len(), 1);
    assert!((problem.model.fired[0].1 - 0.369).abs() < 1e-9, "{:?}", problem.model.fired);
}

#[test]
fn exact_the_earlier_of_two_guards_fires_first_whatever_its_index() {
    let mut problem = Watched::by(&[|_, x| x - 0.9, |_, x| x - 0.2, |t, _| t - 0.4]);
    problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap();
    let order: Vec<usize> = problem.model.fired.iter().map(|fired| fired.0).collect();
    assert_eq!(order, [1, 2, 0]);
    for ((_, found), exact) in problem.model.fired.iter().zip([0.2, 0.4, 0.9]) {
        // Each restart moves the state on by two restart steps of 1e-11 s.
        assert!((found - exact).abs() < 1e-10, "{found} against {exact}");
    }
}

#[test]
fn exact_guards_at_one_time_fire_in_the_order_of_their_index() {
    let shapes: [GuardFn; 4] =
        [|_, x| x - 0.5, |_, x| (x - 0.5) * (1.0 + x * x), |t, _| (t - 0.5) / 3.0, |_, x| (4.0 * (x - 0.5)).sinh()];
    for turn in 0..shapes.len() {
        let mut turned = shapes;
        turned.rotate_left(turn);
        let mut problem = Watched::by(&turned);
        problem.run((0.0, 1.0), &[0.0], &rtol(1e-6)).unwrap();
        let order: Vec<usize> = problem.model.fired.iter().map(|fired| fired.0).collect();
        assert_eq!(order, [0, 1, 2, 3], "turned by {turn}: {:?}", problem.model.fired);
        assert!(problem.model.fired.iter().all(|fired| (fired.1 - 0.5).abs() < 1e-9));
    }
}

#[test]
fn exact_true_at_the_start_fires_once_at_the_start() {
    let mut problem = Watched::by(&[|_, x| 1.0 + x, |_, x| x - 0.5]);
    let record = problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap();
    assert_eq!(problem.model.fired[0], (0, 0.0));
    assert_eq!(problem.model.fired.len(), 2);
    assert_eq!(record.jumps.len(), 2);
    assert_eq!(record.jumps[0].0, 0.0);
}

#[test]
fn exact_zero_at_the_start_fires_when_it_rises_and_not_when_it_falls() {
    for (guard, count) in [((|_, x| x) as GuardFn, 1), (|_, x| -x, 0)] {
        let mut problem = Watched::by(&[guard]);
        problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap();
        assert_eq!(problem.model.fired.len(), count);
    }
}

#[test]
fn exact_never_again_after_the_restart() {
    // A run ends just at its event; the run that goes on from there does not fire it again.
    let guard: GuardFn = |_, x| x - 0.5;
    let mut problem = Watched::by(&[guard]);
    let first = problem.run((0.0, 0.5 + 1e-13), &[0.0], &rtol(1e-4)).unwrap();
    assert_eq!(problem.model.fired.len(), 1);
    assert_eq!(first.ended.unwrap().ending, Ending::Finished);
    problem.run((0.5 + 1e-13, 1.0), &first.x, &rtol(1e-4)).unwrap();
    assert_eq!(problem.model.fired.len(), 1);
}

#[test]
fn exact_event_at_the_end_of_the_span() {
    // Above zero by 1e-10 at the end: it fires, and the jump is the last thing seen.
    let mut problem = Watched::by(&[|_, x| x - 1.0 + 1e-10]);
    let record = problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap();
    assert_eq!(problem.model.fired.len(), 1);
    assert!((record.jumps[0].0 - 1.0).abs() < 1e-9);
    assert_eq!(record.ended.unwrap().t, 1.0);
    // Zero at the end is not above zero.
    let mut problem = Watched::by(&[|t, _| t - 1.0]);
    let record = problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap();
    assert!(problem.model.fired.is_empty() && record.jumps.is_empty());
}

#[test]
fn exact_guards_that_keep_firing_are_an_error_that_names_them() {
    let mut problem = Watched::by(&[|_, x| x - 0.25, |_, _| -1.0, |_, x| x - 0.25]);
    problem.model.for_ever = true;
    let error = problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap_err();
    let SolveError::TooManyChanges { t, limit, .. } = error else { panic!("{error}") };
    assert!((t - 0.25).abs() < 1e-10 && limit == 64);
    let expected =
        format!("at {t} s the mode changed more than 64 times without time going on, by turns: guard 0, guard 2");
    assert_eq!(error.to_string(), expected);
}

#[test]
fn exact_a_scheduled_time_that_is_never_moved_on_is_named_too() {
    let mut problem = Watched::by(&[]);
    problem.model.stop = Some(0.5);
    let error = problem.run((0.0, 1.0), &[0.0], &rtol(1e-4)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "at 0.5 s the mode changed more than 64 times without time going on, by turns: a scheduled time that does not move on"
    );
}
