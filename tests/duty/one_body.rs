//! One and two bodies of heat against closed forms.

use proptest::prelude::*;
use stallpoint::studies::duty::{LinearFlow, periodic, rms};

use super::support::assert_close;

/// A body in S3: θ_max = θ (1 - e^(-t_on/τ)) / (1 - e^(-(t_on + t_off)/τ)), θ_min = θ_max e^(-t_off/τ).
#[test]
fn exact_one_body_in_s3() {
    for (tau, on, off) in [(300.0, 60.0, 240.0), (5.0, 60.0, 240.0), (1e6, 60.0, 240.0), (300.0, 3000.0, 1.0)] {
        let (hot, cool) = (LinearFlow::one(1.0 / tau, 80.0 / tau), LinearFlow::one(1.0 / tau, 0.0));
        let round = periodic(&[(on, hot), (off, cool)]).unwrap();
        let highest = 80.0 * -(-on / tau).exp_m1() / -(-(on + off) / tau).exp_m1();
        assert_close(round.highest.0, highest, 1e-6, "highest");
        assert_close(round.highest.1, on, 1e-12, "when");
        assert!((round.lowest - highest * (-off / tau).exp()).abs() <= 1e-6 * highest, "{}", round.lowest);
    }
}

#[test]
fn exact_heat_without_cooling_has_no_steady_cycle() {
    let (hot, idle) = (LinearFlow::one(0.0, 0.1), LinearFlow::one(0.0, 0.0));
    assert_eq!(periodic(&[(10.0, hot), (10.0, idle)]), None);
    // Copper whose heat grows faster with its warmth than it cools.
    let runaway = LinearFlow::one(-0.001, 1.0);
    assert_eq!(periodic(&[(10.0, runaway)]), None);
    assert_eq!(runaway.settled(), None);
    assert_eq!(runaway.after([20.0, 0.0], 1e9)[0], f64::INFINITY);
}

#[test]
fn exact_rms_of_a_ramp_and_a_constant() {
    assert_close(rms(&[(2.0, 0.0, 3.0), (1.0, 5.0, 5.0)]), ((2.0 * 9.0 / 3.0 + 25.0) / 3.0_f64).sqrt(), 1e-12, "rms");
}

/// Rate of two bodies that exchange heat, stepped through by hand.
fn stepped(flow: &LinearFlow, mut x: [f64; 2], t: f64) -> [f64; 2] {
    let steps = 20_000;
    let h = t / f64::from(steps);
    for _ in 0..steps {
        let add = |x: [f64; 2], k: [f64; 2], h: f64| [x[0] + h * k[0], x[1] + h * k[1]];
        let k1 = flow.rate(x);
        let k2 = flow.rate(add(x, k1, 0.5 * h));
        let k3 = flow.rate(add(x, k2, 0.5 * h));
        let k4 = flow.rate(add(x, k3, h));
        for b in 0..2 {
            x[b] += h / 6.0 * (k1[b] + 2.0 * k2[b] + 2.0 * k3[b] + k4[b]);
        }
    }
    x
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Winding and case: the closed form against a Runge–Kutta integration, the steady cycle against repeating it.
    #[test]
    fn prop_two_bodies(capacity in 50.0..500.0_f64, case in 500.0..5000.0_f64, between in 0.2..2.0_f64,
                       out in 0.1..2.0_f64, watts in 20.0..300.0_f64, on in 5.0..200.0_f64, off in 5.0..400.0_f64) {
        let flow = |watts: f64| LinearFlow {
            a: [[-1.0 / (between * capacity), 1.0 / (between * capacity)],
                [1.0 / (between * case), -(1.0 / between + 1.0 / out) / case]],
            b: [watts / capacity, 20.0 / (out * case)],
        };
        let (hot, cool) = (flow(watts), flow(0.0));
        let (exact, by_hand) = (hot.after([20.0, 20.0], on), stepped(&hot, [20.0, 20.0], on));
        for b in 0..2 {
            prop_assert!((exact[b] - by_hand[b]).abs() < 1e-8 * by_hand[b].abs(), "{exact:?} {by_hand:?}");
        }
        let round = periodic(&[(on, hot), (off, cool)]).unwrap();
        let mut x = [20.0, 20.0];
        let cycles = (40.0 * (between + out) * (capacity + case) / (on + off)).ceil() as usize;
        for _ in 0..cycles {
            x = cool.after(hot.after(x, on), off);
        }
        prop_assert!((x[0] - round.start[0]).abs() < 1e-6 * round.start[0], "{x:?} {round:?}");
        prop_assert!(round.highest.0 >= round.lowest && round.highest.0 >= hot.after(round.start, on)[0] * (1.0 - 1e-12));
        // The mean times the rate's coefficients is what the value changed by.
        let (mean, end) = (hot.mean(round.start, on), hot.after(round.start, on));
        for b in 0..2 {
            prop_assert!((hot.rate(mean)[b] * on - (end[b] - round.start[b])).abs() < 1e-6 * end[b]);
        }
    }
}
