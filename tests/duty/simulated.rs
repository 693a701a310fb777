//! The steady cycle, found directly, against simulating cycle after cycle.

use proptest::prelude::*;
use stallpoint::circuit::Signal;
use stallpoint::drive::{Control, Direction};
use stallpoint::studies::duty::{Cycle, duty_study};

use super::support::{assert_close, boat_lift, forward};

/// A battery that neither runs down nor trips anything, and a winding as given.
fn drive(capacity: f64, resistance: f64) -> stallpoint::Drive {
    boat_lift(&[
        ("battery.capacity", "1e6 Ah"),
        ("motor.heat_capacity", &format!("{capacity} J/K")),
        ("motor.thermal_resistance", &format!("{resistance} K/W")),
        ("breaker.rated_current", "500 A"),
    ])
}

/// Lowest and highest winding temperature in the last of many simulated cycles.
fn simulated(drive: &stallpoint::Drive, cycle: &Cycle, cycles: usize) -> (f64, f64) {
    let (mut control, mut t) = (Control::new(), 0.0);
    for span in (0..cycles).flat_map(|_| cycle.spans()) {
        if let Some(call) = span.call {
            control = control.call(call, t, t + span.duration).unwrap();
        }
        t += span.duration;
    }
    let run = drive.run(&control, t).unwrap();
    let winding = Signal::State("motor".into(), "winding_temperature".into());
    let last = run.extremes_between(&winding, t - cycle.time().unwrap(), t).unwrap();
    (last.min, last.max)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn prop_the_steady_cycle_is_that_of_many_simulated(
        capacity in 40.0..80.0_f64, resistance in 0.3..0.6_f64, on in 2.0..12.0_f64, off in 20.0..40.0_f64, both in any::<bool>()
    ) {
        let drive = drive(capacity, resistance);
        let cycle = match both {
            false => forward(on, off),
            true => forward(on, off).reverse(0.5 * on).unwrap().rest(off).unwrap(),
        };
        let study = duty_study(&drive, &cycle).unwrap();
        let winding = study.part("motor winding").unwrap();
        // Six time constants from cold.
        let cycles = (6.0 * capacity * resistance * 1.4 / cycle.time().unwrap()).ceil() as usize + 1;
        let (lowest, highest) = simulated(&drive, &cycle, cycles);
        let rise = highest - 20.0;
        prop_assert!((winding.highest - highest).abs() < 0.01 * rise, "{} against {highest}", winding.highest);
        prop_assert!((winding.lowest - lowest).abs() < 0.01 * rise, "{} against {lowest}", winding.lowest);
    }
}

/// The breaker's accumulator of a jogged drive: its steady cycle against the simulation of twelve.
#[test]
fn exact_the_breakers_accumulator() {
    // A winding that twelve cycles do not warm, for they would not get it to its steady cycle.
    let drive = boat_lift(&[
        ("battery.capacity", "1e6 Ah"),
        ("breaker.rated_current", "30 A"),
        ("breaker.cooling_time_constant", "8 s"),
        ("motor.thermal_resistance", "0.001 K/W"),
    ]);
    let cycle = forward(0.8, 6.0);
    let told = duty_study(&drive, &cycle).unwrap();
    let (mut control, mut t) = (Control::new(), 0.0);
    for _ in 0..12 {
        control = control.forward(t, t + 0.8).unwrap();
        t += 6.8;
    }
    let run = drive.run(&control, t).unwrap();
    for (part, edge) in [("breaker, fastest device", "fastest"), ("breaker, slowest device", "slowest")] {
        let accumulator = Signal::State("breaker".into(), format!("trip_fraction_{edge}"));
        let last = run.extremes_between(&accumulator, t - 6.8, t).unwrap();
        assert!(last.max > 1e-3 && last.max < 1.0, "{last:?}");
        assert_close(told.part(part).unwrap().highest, last.max, 0.01, part);
    }
}

/// S2 against one simulated run from cold.
#[test]
fn exact_short_time_against_a_transient() {
    let drive = drive(60.0, 0.5);
    let study = duty_study(&drive, &Cycle::short_time(Direction::Forward, "20 s").unwrap()).unwrap();
    let winding = study.part("motor winding").unwrap();
    let run = drive.run(&Control::new().forward(0.0, 20.0).unwrap(), 400.0).unwrap();
    let temperature = Signal::State("motor".into(), "winding_temperature".into());
    let highest = run.extremes(&temperature).unwrap();
    assert_close(winding.highest - 20.0, highest.max - 20.0, 0.01, "highest");
    let cold = run.crossing(&temperature, 22.0, false, 20.0).unwrap().unwrap();
    assert_close(winding.shortest_rest.unwrap(), cold - 20.0, 0.01, "until cold again");
    let limit = run.crossing(&temperature, 60.0, true, 0.0).unwrap().unwrap();
    let lower = drive.with_values([("motor.max_winding_temperature_c", "60 degC")]).unwrap();
    let lower = duty_study(&lower, &Cycle::short_time(Direction::Forward, "20 s").unwrap()).unwrap();
    let told = lower.part("motor winding").unwrap().longest_on_from_cold.unwrap();
    assert_close(told, limit, 0.02, "longest time from cold");
}

/// Winding and case: the steady cycle of both bodies against many simulated cycles.
#[test]
fn exact_a_motor_with_a_case() {
    let mut value = drive(40.0, 0.4).to_value().unwrap();
    value["motor"]["case"] = serde_json::json!({"heat_capacity": "120 J/K", "thermal_resistance": "0.15 K/W"});
    let drive = stallpoint::Drive::from_value(value).unwrap();
    let cycle = forward(5.0, 15.0);
    let study = duty_study(&drive, &cycle).unwrap();
    let winding = study.part("motor winding").unwrap();
    let (lowest, highest) = simulated(&drive, &cycle, 12);
    assert_close(winding.highest - 20.0, highest - 20.0, 0.01, "highest");
    assert_close(winding.lowest - 20.0, lowest - 20.0, 0.01, "lowest");
    let case = winding.case_highest.unwrap();
    assert!(case > 20.0 && case < winding.highest, "{case}");
}

/// A thermal replica counts below its pick-up too.
#[test]
fn exact_a_thermal_replica() {
    let mut value = drive(150.0, 0.001).to_value().unwrap();
    value["breaker"]["rated_current"] = serde_json::json!("80 A");
    value["breaker"]["trip_band"] =
        serde_json::json!({"thermal": {"pick_up": 1.2, "time_constant": "30 s", "tolerance": "20 %"}});
    let drive = stallpoint::Drive::from_value(value).unwrap();
    let cycle = forward(10.0, 20.0);
    let told = duty_study(&drive, &cycle).unwrap();
    let mut control = Control::new();
    for k in 0..8 {
        control = control.forward(30.0 * f64::from(k), 30.0 * f64::from(k) + 10.0).unwrap();
    }
    let run = drive.run(&control, 240.0).unwrap();
    for (part, edge) in [("breaker, fastest device", "fastest"), ("breaker, slowest device", "slowest")] {
        let accumulator = Signal::State("breaker".into(), format!("trip_fraction_{edge}"));
        let last = run.extremes_between(&accumulator, 210.0, 240.0).unwrap();
        assert!(last.max > 0.05 && last.max < 1.0, "{last:?}");
        assert_close(told.part(part).unwrap().highest, last.max, 0.01, part);
    }
}

/// At an end stop the load changes late: the stage lift at the end of its stroke runs on against its relief valve.
#[test]
fn exact_a_load_that_changes_within_a_span_is_followed() {
    let drive = stallpoint::Drive::from_toml_str(stallpoint::drive::STAGE_LIFT).unwrap();
    let cycle =
        |up: f64| Cycle::new().forward(up).unwrap().rest(60.0).unwrap().reverse(15.0).unwrap().rest(60.0).unwrap();
    let within = duty_study(&drive, &cycle(5.0)).unwrap();
    let beyond = duty_study(&drive, &cycle(15.0)).unwrap();
    // 140 bar instead of 100 bar.
    let ratio = beyond.spans[0].motor_settled / within.spans[0].motor_settled;
    assert!(ratio > 1.2 && ratio < 1.5, "{ratio}");
    assert!(beyond.spans[0].motor_rms < beyond.spans[0].motor_settled);
}

/// A fuse counts in a cycle as a breaker does, under its own name and with its own band.
#[test]
fn exact_a_fuse_counts_in_the_cycle() {
    use stallpoint::parts::Fuse;
    use stallpoint::tables::trip_gates::FuseClass;
    let cycle = crate::support::forward(20.0, 20.0);
    let mut drive = crate::support::boat_lift(&[]);
    let verdict = |drive: &stallpoint::drive::Drive| {
        let study = stallpoint::studies::duty::duty_study(drive, &cycle).unwrap();
        let part = study.part("fuse, fastest device").unwrap().highest;
        (part, crate::support::check(&study, "The cycle never blows the fuse").verdict)
    };
    // 62.6 A forward: 80 A hold it for ever, 50 A do not.
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A").unwrap()).unwrap();
    let (part, pass) = verdict(&drive);
    assert!(part < 0.2 && pass == stallpoint::report::Verdict::Pass, "{part} {pass}");
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "50 A").unwrap()).unwrap();
    let (small, _) = verdict(&drive);
    assert!(small > 10.0 * part, "{small} {part}");
}
