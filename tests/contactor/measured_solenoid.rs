//! The inductance of a moving armature's coil, against a measured solenoid.

use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{RestPosition, ReversingContactor};

use super::drive::{contactor, control_and_power, pulses};

/// A solenoid's inductance at 100 Hz against the gap, open to closed (tests/reference/solenoid_inductance.toml). The coil's
/// straight line between the two ends follows it; its worst point is stated here as found, no limit is published.
#[test]
fn val_inductance_against_gap_is_nearly_a_straight_line() {
    let text = include_str!("../reference/solenoid_inductance.toml");
    let table = text.parse::<toml::Table>().unwrap()["gap_inductance"].as_table().unwrap().clone();
    let column = |key: &str| -> Vec<f64> {
        table[key].as_array().unwrap().iter().map(|value| value.as_float().unwrap()).collect()
    };
    let (gaps, measured) = (column("gap_mm"), column("L_100Hz_mH"));
    let last = gaps.len() - 1;
    let base = contactor(RestPosition::Braked);
    let mut coil = base.coil.clone();
    coil.open_inductance = Some(format!("{} mH", measured[0]).parse().unwrap());
    coil.sealed_inductance = Some(format!("{} mH", measured[last]).parse().unwrap());
    let moving = ReversingContactor { coil, bounce: Vec::new(), ..base };
    let over = moving.operate_time.si();
    let run = control_and_power(moving, pulses(&[(0.01, 0.2)]), pulses(&[]))
        .transient(0.15, &TransientOptions::rtol(1e-7))
        .unwrap();
    let begins = run.events.iter().find(|event| event.what == "coil A pulls in").unwrap().time;
    let mut worst: f64 = 0.0;
    for (gap, henries) in gaps.iter().zip(&measured) {
        // The quick armature's position is u²(3 - 2u); the time at which it is there, by bisection.
        let there = 1.0 - gap / gaps[0];
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..60 {
            let u = 0.5 * (low + high);
            if u * u * (3.0 - 2.0 * u) < there { low = u } else { high = u }
        }
        let at = run.sample(&[begins + low * over]).unwrap();
        let value = |name: &str| at.state("contactor", name).unwrap()[0];
        let chord = 1e3 * value("coil_a_flux") / value("coil_a_current");
        println!("{gap} mm: {chord:.2} mH, measured {henries} mH");
        worst = worst.max((chord / henries - 1.0).abs());
    }
    assert!(worst < 0.05, "{worst}");
}
