//! Corners by combination and by sensitivity signs.

use stallpoint::circuit::Flow;
use stallpoint::studies::sizing::{Corner, SizingOptions, Stream, Tolerance, WorstDay, assess, worst_corners};

use super::support::with;

#[test]
fn exact_every_combination_of_the_ends() {
    let tolerances = [
        Tolerance::interval("battery.state_of_charge", "50 %", 1.0).named("charge"),
        Tolerance::normal("motor.resistance", "42 mohm", "1 mohm"),
    ];
    let corners = Corner::all(&with(&[]), &tolerances).unwrap();
    assert_eq!(corners.len(), 4);
    assert_eq!(corners[0].name, "charge 0.5, motor.resistance 0.039");
    assert_eq!(corners[3].name, "charge 1, motor.resistance 0.045"); // three deviations to each side
    let drive = corners[3].apply(&with(&[])).unwrap();
    assert!(
        (drive.battery.state_of_charge.si(), (drive.motor.armature().resistance.si() - 0.045).abs() < 1e-12)
            == (1.0, true)
    );
}

#[test]
fn exact_a_tolerance_that_cannot_be_names_its_key() {
    let refuse = |tolerance: Tolerance| Corner::all(&with(&[]), &[tolerance]).unwrap_err().to_string();
    assert!(refuse(Tolerance::interval("battery.state_of_charge", 0.9, 0.5)).contains("battery.state_of_charge"));
    assert!(refuse(Tolerance::interval("battery.charge", 0.1, 0.5)).contains("battery.charge"));
    assert!(
        refuse(Tolerance::interval("battery.chemistry", "agm_lead_acid", "flooded_lead_acid"))
            .contains("battery.chemistry")
    );
}

/// The least margin of each requirement over all eight corners is that of the corners found, and no sample is worse.
#[test]
fn exact_sensitivity_signs_find_the_worst_of_all_corners() {
    let drive = with(&[]);
    let tolerances = [
        Tolerance::interval("battery.state_of_charge", "50 %", "100 %"),
        Tolerance::interval("supply_cable.temperature_c", 0.0, 60.0).and("ground_cable.temperature_c"),
        Tolerance::interval("load.0.running", "2.2 N m", "2.8 N m"),
    ];
    let options = SizingOptions::default();
    let found = worst_corners(&drive, &tolerances, (12, 5), &options, &mut |_| Flow::Continue).unwrap();
    let all = SizingOptions { corners: Corner::all(&drive, &tolerances).unwrap(), ..options };
    let full = assess(&drive, &all).unwrap();
    for (key, least) in &found.least_margins {
        let worst = full
            .checks
            .iter()
            .filter(|check| check.key == *key)
            .filter_map(|check| check.margin)
            .fold(f64::INFINITY, f64::min);
        assert!(*least <= worst + 1e-3 * worst.abs(), "{key}: {least} against {worst}");
    }
    assert_eq!(found.samples, 12);
    assert!(found.beyond.is_empty(), "{:?}", found.beyond);
}

/// Where a margin does not go one way, sampling tells: the heat of a joint is largest at an R in the middle.
#[test]
fn exact_sampling_tells_where_signs_are_not_enough() {
    use stallpoint::report::{Check, Side};
    use stallpoint::studies::sizing::{Case, Requirements};
    // A requirement that is worst at 75 % charge and best at both ends.
    let requirements = Requirements::default().with(|case: &Case| {
        let off = (case.drive.battery.state_of_charge.si() - 0.75).abs();
        vec![Check::against("Not half way", off, Side::AtLeast, 0.1, "1", "by the user", "any").keyed("half_way")]
    });
    let options = SizingOptions { requirements, ..SizingOptions::default() };
    let charge = [Tolerance::interval("battery.state_of_charge", 0.5, 1.0)];
    let found = worst_corners(&with(&[("battery.state_of_charge", "60 %")]), &charge, (12, 5), &options, &mut |_| {
        Flow::Continue
    })
    .unwrap();
    assert!(found.beyond.iter().any(|(key, ..)| key == "half_way"), "{:?}", found.beyond);
}

/// No draw between the drive as described and the worst day is worse in breakaway, run-up or pull-in than the worst day.
#[test]
fn prop_no_sample_is_worse_than_the_worst_day() {
    let drive = with(&[]);
    let judged =
        |corner: Corner| assess(&drive, &SizingOptions { corners: vec![corner], ..Default::default() }).unwrap();
    let worst = WorstDay::default();
    let found = judged(worst.corner(&drive));
    for index in 0..12 {
        let mut stream = Stream::new(11, index);
        let mut part = |from: f64, to: f64| from + stream.uniform() * (to - from);
        let some = WorstDay {
            state_of_charge: part(0.9, worst.state_of_charge),
            battery_resistance: part(1.0, worst.battery_resistance),
            hot_c: part(20.0, worst.hot_c),
            joint: part(1e-4, worst.joint),
            load: part(1.0, worst.load),
        };
        let sample = judged(some.corner(&drive));
        for key in ["breakaway", "time_to_speed", "pull_in", "hold", "battery_sag"] {
            let [worst, some] =
                [&found, &sample].map(|found| found.of(key).unwrap().margin.unwrap_or(f64::NEG_INFINITY));
            assert!(worst <= some + 1e-9, "{key}: {worst} on the worst day, {some} at {index}");
        }
    }
}
