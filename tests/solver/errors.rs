//! Typed errors, their text in full.

use super::model::{Model, Problem, Record, rtol};
use stallpoint_solve::{Options, SolveError, integrate};

type Equations = fn(t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]);

/// Two unknowns by a plain function.
#[derive(Clone)]
struct Pair {
    differential: [bool; 2],
    equations: Equations,
}

impl Model for Pair {
    fn differential(&self) -> Vec<bool> {
        self.differential.to_vec()
    }

    fn equations(&self, t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        (self.equations)(t, x, q, f);
    }
}

fn error(differential: [bool; 2], equations: Equations, options: &Options) -> SolveError {
    Problem::new(Pair { differential, equations }).run((0.0, 1.0), &[1.0, 1.0], options).unwrap_err()
}

fn good(_t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
    q.copy_from_slice(x);
    f.copy_from_slice(x);
}

fn problem() -> Problem<Pair> {
    Problem::new(Pair { differential: [true; 2], equations: good })
}

#[test]
fn exact_not_a_number_at_the_start() {
    let equations: Equations = |t, x, q, f| {
        good(t, x, q, f);
        f[1] = f64::NAN;
    };
    let found = error([true; 2], equations, &rtol(1e-4));
    assert_eq!(found, SolveError::NotFinite { t: 0.0, equation: "equation 1".into() });
    assert_eq!(found.to_string(), "at 0 s equation 1 is not a finite number");
}

#[test]
fn exact_infinity_on_the_way_is_named_with_its_time() {
    let equations: Equations = |t, x, q, f| {
        good(t, x, q, f);
        if t > 0.5 {
            f[0] = f64::INFINITY;
        }
    };
    let SolveError::NotFinite { t, equation } = error([true; 2], equations, &rtol(1e-4)) else { panic!() };
    assert_eq!(equation, "equation 0");
    assert!((t - 0.5).abs() < 1e-9, "{t}");
}

#[test]
fn exact_singular_matrix() {
    // Both rows say the same: the second unknown is free.
    let equations: Equations = |_, x, _, f| (f[0], f[1]) = (x[0] + x[1] - 2.0, 2.0 * x[0] + 2.0 * x[1] - 4.0);
    let found = error([false; 2], equations, &rtol(1e-4));
    assert!(matches!(found, SolveError::Singular { t: 0.0, .. }), "{found}");
    let text = found.to_string();
    let names = |u, e| {
        format!("at 0 s the equations have no unique solution: unknown {u} is not determined (see equation {e})")
    };
    assert!((0..2).any(|u| (0..2).any(|e| text == names(u, e))), "{text}");
}

#[test]
fn exact_empty_span() {
    let run = |from, to| problem().run((from, to), &[1.0, 1.0], &rtol(1e-4)).unwrap_err().to_string();
    assert_eq!(run(1.0, 1.0), "the time span from 1 s to 1 s is empty: the end must be later than the start");
    assert_eq!(run(2.0, -1.0), "the time span from 2 s to -1 s is empty: the end must be later than the start");
    assert_eq!(run(0.0, f64::NAN), "the time span from 0 s to NaN s is empty: the end must be later than the start");
    assert!(run(0.0, f64::INFINITY).starts_with("the time span from 0 s to inf s is empty"));
}

#[test]
fn exact_options_out_of_range() {
    let text = |options: &Options| problem().run((0.0, 1.0), &[1.0, 1.0], options).unwrap_err().to_string();
    for (value, shown) in [(0.0, "0"), (1.0, "1"), (1e-13, "0.0000000000001"), (f64::NAN, "NaN")] {
        assert_eq!(text(&rtol(value)), format!("option `rtol` is {shown}: choose it between 1e-12 and 0.1"));
    }
    let default = Options::default();
    assert_eq!(text(&Options { max_step: 0.0, ..default }), "option `max_step` is 0: it must be above zero");
    assert_eq!(text(&Options { atol_factor: -1.0, ..default }), "option `atol_factor` is -1: it must be above zero");
    assert_eq!(
        text(&Options { first_step: Some(f64::NAN), ..default }),
        "option `first_step` is NaN: it must be above zero"
    );
    assert_eq!(text(&Options { restart_step: 0.0, ..default }), "option `restart_step` is 0: it must be above zero");
}

#[test]
fn exact_wrong_number_of_initial_values() {
    let error = problem().run((0.0, 1.0), &[1.0], &rtol(1e-4)).unwrap_err();
    assert_eq!(error.to_string(), "1 initial values for 2 unknowns");
}

#[test]
fn exact_no_solution_is_named() {
    // (x - 0.3)² + 1 = 0 has none.
    let equations: Equations = |_, x, _, f| (f[0], f[1]) = (x[0] - 1.0, (x[1] - 0.3).powi(2) + 1.0);
    let found = error([false; 2], equations, &rtol(1e-4));
    let SolveError::NotConverged { t, iterations, .. } = found else { panic!("{found}") };
    assert_eq!((t, iterations), (0.0, 100));
    assert_eq!(found.to_string(), "at 0 s no solution was found after 100 iterations; unknown 1 moved most");
}

#[test]
fn exact_a_jump_without_an_event_is_blamed_on_its_unknown() {
    // An algebraic unknown that drives a charge blows up: x' = x², beyond t = 1 there is no solution.
    let equations: Equations = |_, x, q, f| {
        q.copy_from_slice(x);
        (f[0], f[1]) = (-x[0] * x[0], 0.0);
    };
    let mut record = Record::default();
    let mut x = [1.0, 1.0];
    let mut problem = Problem::new(Pair { differential: [true; 2], equations });
    let found = integrate(&mut problem, (0.0, 2.0), &mut x, &rtol(1e-4), &mut record).unwrap_err();
    println!("{found}");
    let (SolveError::StepTooSmall { t, .. } | SolveError::NotConverged { t, .. }) = found else { panic!("{found}") };
    assert!((t - 1.0).abs() < 0.01, "{t}");
    assert!(found.to_string().contains("unknown 0"), "{found}");
    // What was computed before stays: the observer saw it, and x is its end.
    assert_eq!(record.steps[record.steps.len() - 1].x1, x);
}
