//! Kirchhoff, energy and repeatability on every demo run.

use stallpoint::drive::{Control, Direction, Drive};
use stallpoint::studies::surge::{SurgeStudy, surge_study};

use super::support::{boat_lift, ground_return, start};

fn studies() -> [SurgeStudy; 2] {
    [boat_lift(), ground_return()].map(|drive| surge_study(&drive).unwrap())
}

#[test]
fn exact_energy_adds_up_on_every_demo_run() {
    for study in studies() {
        for runs in &study.directions {
            for (name, run) in runs.named() {
                // A run that only releases delivers little: its residual is held against what its parts moved.
                let moved: f64 = run.energy.parts.iter().map(|part| part.dissipated.abs() + part.stored.abs()).sum();
                let scale = run.energy.delivered().max(0.5 * moved);
                let residual = run.energy.residual() / scale;
                assert!(residual.abs() <= 1e-4, "{} {name}: {residual:e} of {scale} J", runs.direction);
            }
        }
    }
}

#[test]
fn exact_power_balances_on_every_demo_run() {
    for study in studies() {
        for runs in &study.directions {
            for (name, run) in runs.named() {
                let most = (0..run.len()).map(|row| run.power_balance(row).1).fold(0.0, f64::max);
                for row in 0..run.len() {
                    let (sum, magnitude) = run.power_balance(row);
                    // Rounding of the run's largest power is allowed for where hardly anything flows.
                    assert!(
                        sum.abs() <= 1e-4 * magnitude + 1e-12 * most,
                        "{name}, row {row}: {sum:e} of {magnitude:e}"
                    );
                }
            }
        }
    }
}

#[test]
fn exact_same_bits_on_every_run() {
    let bits = |drive: &Drive| -> Vec<u64> {
        let jog = Control::new().forward(0.0, 0.4).unwrap().reverse(0.42, 0.8).unwrap();
        let run = drive.run(&jog, 1.0).unwrap();
        let all = ["motor", "battery", "breaker"].map(|part| run.current(part).unwrap()).concat();
        run.time().iter().chain(&all).map(|value| value.to_bits()).collect()
    };
    assert_eq!(bits(&boat_lift()), bits(&boat_lift()));
}

#[test]
fn exact_a_run_goes_on_where_another_ended() {
    let drive = boat_lift();
    let whole = start(&drive, Direction::Forward, 0.6);
    let first = start(&drive, Direction::Forward, 0.3);
    let control = Control::new().forward(0.0, 5.0).unwrap();
    let options = stallpoint::TransientOptions { start: first.state_at_end(), ..Default::default() };
    let rest = drive.run_with(&control, 0.6, &options, &mut |_| stallpoint::circuit::Flow::Continue).unwrap();
    let speed = |run: &stallpoint::Run| run.sample(&[0.6]).unwrap().state("motor", "speed").unwrap()[0];
    assert!((speed(&whole) / speed(&rest) - 1.0).abs() < 1e-3);
}
