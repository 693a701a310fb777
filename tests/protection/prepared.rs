//! The curves that a circuit computes with, against the band's own times, and their derivatives.

use crate::support::{assert_close, band, breaker_at};
use stallpoint::circuit::{At, LocalEquations, Memory, Part};
use stallpoint::parts::{Breaker, Fuse, HoldingHeater, MagneticTrip, Reset, TripBand};
use stallpoint::quantity::Fraction;
use stallpoint::tables::inverse_time::InverseTimeCurve;
use stallpoint::tables::trip_gates::FuseClass;

fn equations(part: &dyn Part, x: &[f64], memory: &Memory) -> LocalEquations {
    let identity: Vec<u32> = (0..x.len() as u32).collect();
    let mut local = LocalEquations::new(x.len());
    part.evaluate(&At::alone(0.0, x, memory, &identity), &mut local.stamp());
    local
}

/// Memory of a device whose current is above both pick-ups.
fn above(part: &dyn Part) -> Memory {
    let mut memory = part.memory();
    memory.numbers[3] = 1.0;
    memory.numbers[4] = 1.0;
    memory
}

#[test]
fn exact_rates_are_one_over_the_times_of_the_band() {
    let mut bands: Vec<TripBand> =
        InverseTimeCurve::ALL.map(|curve| TripBand::inverse_time(curve, 0.7, "15 %").unwrap()).into();
    bands.push(band());
    for band in bands {
        for position in [0.0, 0.3, 1.0] {
            let breaker =
                Breaker { band_position: Fraction::from_si(position), ..Breaker::new("50 A", band.clone()).unwrap() };
            let memory = above(&breaker);
            for multiple in [1.41, 1.7, 2.0, 3.0, 5.9, 6.0, 11.0, 40.0] {
                let f = equations(&breaker, &[0.1, 0.0, -multiple * 50.0, 0.1, 0.2, 0.3], &memory).f;
                for (row, position) in [(3, 0.0), (4, 1.0), (5, position)] {
                    // The logarithms of 1/t, up to 50 in size, are rounded to 1e-16 of that.
                    assert_close(-f[row], 1.0 / band.time(position, multiple).unwrap(), 1e-12, &format!("{band:?}"));
                }
            }
        }
    }
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let heater = HoldingHeater::default();
    let modified = Breaker { reset: Reset::Modified, heater, ..breaker_at(0.3) };
    let magnetic = Breaker { magnetic: Some(MagneticTrip::new(5.0, 10.0)), ..breaker_at(0.3) };
    let thermal = Breaker::new("50 A", TripBand::thermal(1.2, "60 s", "20 %").unwrap()).unwrap();
    let inverse = TripBand::inverse_time(InverseTimeCurve::IeeeVeryInverse, 1.0, "10 %").unwrap();
    let parts: [Box<dyn Part>; 5] = [
        Box::new(modified),
        Box::new(magnetic),
        Box::new(thermal),
        Box::new(Breaker::new("50 A", inverse).unwrap()),
        Box::new(Fuse::of_class(FuseClass::BladeMaxi, "50 A").unwrap()),
    ];
    for part in &parts {
        for (mode, phase) in [(0, 0.0), (1, 1.0), (1, 2.0), (1, 3.0)] {
            for memory in [part.memory(), above(&**part)] {
                let mut memory = memory;
                memory.mode = mode;
                memory.numbers[0] = phase;
                for i in [91.0, -130.0, 705.0] {
                    let x = &[12.0, 11.3, i, 0.4, 0.1, 0.2, 0.6][..2 + part.unknowns().len()];
                    compare(&**part, x, &memory);
                }
            }
        }
    }
}

fn compare(part: &dyn Part, x: &[f64], memory: &Memory) {
    let n = x.len();
    let own = equations(part, x, memory);
    for column in 0..n {
        let step = 1e-5 * x[column].abs().max(1e-2);
        let at = |sign: f64| {
            let mut moved = x.to_vec();
            moved[column] += sign * step;
            equations(part, &moved, memory)
        };
        let (above, below) = (at(1.0), at(-1.0));
        for row in 0..n {
            for (own, high, low) in [
                (own.df[row * n + column], above.f[row], below.f[row]),
                (own.dq[row * n + column], above.q[row], below.q[row]),
            ] {
                let difference = (high - low) / (2.0 * step);
                let slack = 1e-7 * own.abs() + 8.0 * f64::EPSILON * high.abs().max(low.abs()) / step;
                assert!((own - difference).abs() <= slack, "{} {row},{column}: {own} {difference}", part.kind());
            }
        }
    }
}
