//! Events against closed forms: times of bounces, of a relay's switching, of scheduled changes.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{Cause, Options};

const G: f64 = 9.81; // m/s², typical, any value serves

/// A ball that keeps the part `e` of its speed at each bounce.
#[derive(Clone)]
struct Ball {
    e: f64,
    bounces: Vec<f64>,
}

impl Model for Ball {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        (f[0], f[1]) = (-x[1], G);
    }

    fn guard_count(&self) -> usize {
        1
    }

    fn guards(&self, _t: f64, x: &[f64], out: &mut [f64]) {
        out[0] = -x[0];
    }

    fn fire(&mut self, _cause: Cause, t: f64, x: &mut [f64]) {
        self.bounces.push(t);
        (x[0], x[1]) = (0.0, -self.e * x[1]);
    }
}

#[test]
fn exact_bouncing_ball() {
    let (e, height) = (0.8, 1.0);
    for tolerance in [1e-3, 1e-6] {
        let mut problem = Problem::new(Ball { e, bounces: Vec::new() });
        let record = problem.run((0.0, 3.9), &[height, 0.0], &rtol(tolerance)).unwrap();
        let fall = (2.0 * height / G).sqrt();
        let mut expected = vec![fall];
        let mut flight = 2.0 * fall * e;
        while expected[expected.len() - 1] + flight < 3.9 {
            expected.push(expected[expected.len() - 1] + flight);
            flight *= e;
        }
        assert!(expected.len() > 12);
        assert_eq!(problem.model.bounces.len(), expected.len());
        for (found, exact) in problem.model.bounces.iter().zip(&expected) {
            assert!((found - exact).abs() < 1e-9, "{tolerance:e}: {found} against {exact}");
        }
        assert_eq!(record.jumps.len(), expected.len());
        // Nothing falls through the floor.
        assert!(record.steps.iter().all(|step| step.x1[0] >= -1e-9));
        assert_eq!(record.ended.unwrap().counters.events, expected.len() as u64);
    }
}

#[test]
fn exact_bounces_without_end_are_refused_in_time() {
    // The bounces pile up at t = fall (1 + e) / (1 - e); a run beyond must end with an error or go on, never hang.
    let mut problem = Problem::new(Ball { e: 0.5, bounces: Vec::new() });
    let pile = (2.0 / G).sqrt() * 3.0;
    let options = Options { max_steps: 10_000, ..rtol(1e-4) };
    let error = problem.run((0.0, 2.0 * pile), &[1.0, 0.0], &options).unwrap_err();
    let text = error.to_string();
    let t = problem.model.bounces[problem.model.bounces.len() - 1];
    assert!((t - pile).abs() < 1e-6, "stopped at {t}, pile at {pile}");
    assert!(text.ends_with("s the mode changed more than 64 times without time going on, by turns: guard 0"), "{text}");
}

/// A relay drives `x' = u - x`: `u = 1` until `x` exceeds `a`, then `u = -1` until `x` is below `-a`.
#[derive(Clone)]
struct Relay {
    a: f64,
    u: f64,
    switched: Vec<f64>,
}

impl Model for Relay {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = x[0] - self.u;
    }

    fn guard_count(&self) -> usize {
        2
    }

    fn guards(&self, _t: f64, x: &[f64], out: &mut [f64]) {
        out.fill(-1.0);
        if self.u > 0.0 {
            out[0] = x[0] - self.a;
        } else {
            out[1] = -self.a - x[0];
        }
    }

    fn fire(&mut self, cause: Cause, t: f64, _x: &mut [f64]) {
        self.u = if cause == Cause::Guard(0) { -1.0 } else { 1.0 };
        self.switched.push(t);
    }
}

#[test]
fn exact_relay_with_hysteresis() {
    for (tolerance, allowed) in [(1e-4, 1e-3), (1e-6, 1e-5), (1e-8, 2e-7)] {
        let mut problem = Problem::new(Relay { a: 0.5, u: 1.0, switched: Vec::new() });
        let record = problem.run((0.0, 20.0), &[0.0], &rtol(tolerance)).unwrap();
        // From 0 to a: ln(1/(1 - a)); from a to -a and back: ln((1 + a)/(1 - a)) each.
        let (first, half) = (2.0_f64.ln(), 3.0_f64.ln());
        let exact: Vec<f64> = (0..).map(|k| first + f64::from(k) * half).take_while(|&t| t < 20.0).collect();
        assert_eq!(problem.model.switched.len(), exact.len());
        let worst =
            problem.model.switched.iter().zip(&exact).map(|(found, exact)| (found - exact).abs()).fold(0.0, f64::max);
        // At every switching x is at the level: a step that would end a little before is lengthened.
        let off = record.jumps.iter().map(|jump| (jump.1[0].abs() - 0.5).abs()).fold(0.0, f64::max);
        println!("{tolerance:e}: {worst:e}, off the level by {off:e}");
        assert!(off < 2e-7, "{tolerance:e}: {off:e}");
        assert!(worst < allowed, "{tolerance:e}: {worst:e}");
    }
}

/// Adds one to the slope of `x` at every time of a list.
#[derive(Clone)]
struct Timetable {
    times: Vec<f64>,
    fired: Vec<f64>,
}

impl Model for Timetable {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = -(self.fired.len() as f64);
    }

    fn next_stop(&self) -> Option<f64> {
        self.times.get(self.fired.len()).copied()
    }

    fn fire(&mut self, cause: Cause, t: f64, _x: &mut [f64]) {
        assert_eq!(cause, Cause::Schedule);
        self.fired.push(t);
    }
}

#[test]
fn exact_scheduled_times_to_the_bit() {
    let times = vec![0.0, 0.1, 0.1 + 0.2, 0.7, 0.7 + 1e-9, 1.0 / 3.0 + 0.5, std::f64::consts::FRAC_PI_3, 1.9, 2.0];
    let mut problem = Problem::new(Timetable { times: times.clone(), fired: Vec::new() });
    let record = problem.run((0.0, 2.0), &[0.0], &rtol(1e-4)).unwrap();
    assert_eq!(problem.model.fired, times);
    let jumps: Vec<f64> = record.jumps.iter().map(|jump| jump.0).collect();
    assert_eq!(jumps, times);
    for &time in &times[1..] {
        assert!(record.steps.iter().any(|step| step.t1.to_bits() == time.to_bits()), "no step ends at {time}");
    }
    let exact: f64 = times.iter().map(|time| 2.0 - time).sum();
    assert!((record.x[0] - exact).abs() < 1e-9, "{} against {exact}", record.x[0]);
    assert_eq!(record.ended.unwrap().t.to_bits(), 2.0_f64.to_bits());
}
