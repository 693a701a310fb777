//! What is not silently carried over: an ampacity to another cable, a key that no requirement has, a fault all candidates share.

use stallpoint::circuit::Flow;
use stallpoint::drive::{CONVEYOR_GATE, Drive, STAGE_LIFT};
use stallpoint::report::Verdict;
use stallpoint::studies::sizing::{Choice, KEYS, Requirements, Row, SizingOptions, assess, size, size_with};

use super::support::with;

const SIZE: &str = "supply_cable.cross_section";

#[test]
fn exact_another_cross_section_does_not_keep_the_ampacity() {
    let drive = with(&[]);
    let verdict = |rows: &[Row]| -> Vec<(Verdict, usize)> {
        let found = size(&drive, &[Choice::catalogue("cable", rows.to_vec())]).unwrap();
        let notes = found.notes.iter().filter(|note| note.contains("supply_cable.ampacity")).count();
        let of =
            |checks: &[stallpoint::report::Check]| checks.iter().find(|check| check.key == "ampacity").unwrap().verdict;
        found.candidates.iter().map(|candidate| (of(&candidate.checks), notes)).collect()
    };
    let own = Row::new("described", [(SIZE, "16 mm2")]);
    let other = Row::new("other", [(SIZE, "35 mm2")]);
    let given = Row::new("given", [(SIZE, "35 mm2"), ("supply_cable.ampacity", "140 A")]);
    let found = verdict(&[own.clone(), other, given.clone()]);
    println!("{found:?}");
    assert_eq!(found[1], (Verdict::NotChecked, 1));
    assert!(found[0].0 != Verdict::NotChecked && found[2].0 != Verdict::NotChecked, "{found:?}");
    assert_eq!(verdict(&[own, given])[0].1, 0, "nothing to note where each has its own");
}

#[test]
fn exact_what_all_break_alike_is_said_first() {
    let drive = with(&[("limits.time_to_speed", "1 ms")]);
    let found = size(&drive, &[Choice::list("breaker.rated_current", ["60 A", "80 A"])]).unwrap();
    let note = found.notes.iter().find(|note| note.contains("time_to_speed"));
    assert!(note.is_some_and(|note| note.contains("every candidate breaks")), "{:?}", found.notes);
    assert!(found.summary().contains("every candidate breaks"), "{}", found.summary());
}

#[test]
fn exact_an_unknown_key_cannot_be_left_out() {
    let options = SizingOptions { requirements: Requirements::default().without("nonsense"), ..Default::default() };
    let error = assess(&with(&[]), &options).unwrap_err().to_string();
    assert!(error.contains("\"nonsense\"") && error.contains("stall_protection"), "{error}");
    let choices = [Choice::list("breaker.rated_current", ["60 A"])];
    assert!(size_with(&with(&[]), &choices, &options, &mut |_| Flow::Continue).is_err());
}

#[test]
fn exact_every_key_is_listed_and_every_listed_key_occurs() {
    let limits = [
        ("limits.battery_under_voltage", "6 V"),
        ("limits.battery_over_current", "400 A"),
        ("limits.demagnetisation_current", "400 A"),
        ("limits.making_arc_energy", "10 J"),
        ("limits.making_bounce_i2t", "1000 A2 s"),
    ];
    let mut drives = vec![with(&limits)];
    drives.extend([STAGE_LIFT, CONVEYOR_GATE].map(|text| Drive::from_toml_str(text).unwrap()));
    // The surge's i²t is held against a fuse's only.
    let mut fused = with(&[]);
    let fuse = stallpoint::tables::trip_gates::FuseClass::BladeMaxi;
    fused.protect_by(stallpoint::parts::Fuse::of_class(fuse, "80 A").unwrap()).unwrap();
    drives.push(fused);
    let mut seen = std::collections::BTreeSet::new();
    for drive in &drives {
        seen.extend(
            assess(drive, &SizingOptions::default()).unwrap().checks.into_iter().map(|check| check.key.into_owned()),
        );
    }
    let listed = KEYS.map(String::from).into();
    assert_eq!(seen, listed);
}

/// A cable that heats: its ampacity makes its waveform, and is no rating that a shared run may do without.
#[test]
fn exact_a_heating_cable_can_be_sized() {
    let drive = with(&[]).with_values([("supply_cable.heats", true)]).unwrap();
    let found = size(&drive, &[Choice::list("breaker.rated_current", ["60 A", "80 A"])]).unwrap();
    assert!(found.candidates.iter().all(|candidate| candidate.failure.is_none() && candidate.run), "{found:#?}");
    // A colder start than the insulation's limit: it is a little less resistance than at 70 °C, and about that at 20 °C.
    let [cold, warm] = [&with(&[]), &drive].map(|drive| assess(drive, &SizingOptions::default()).unwrap());
    let drop = |found: &stallpoint::studies::sizing::Assessment| found.of("supply_drop").unwrap().value.unwrap();
    assert!((drop(&warm) / drop(&cold) - 1.0).abs() < 1e-2, "{} {}", drop(&warm), drop(&cold));
}

/// The metal and the insulation decide an ampacity as the cross-section does.
#[test]
fn exact_another_metal_or_insulation_does_not_keep_the_ampacity() {
    for (key, own, other) in [("conductor", "copper", "aluminium"), ("insulation", "pvc_70", "xlpe_90")] {
        let found = size(&with(&[]), &[Choice::list(format!("supply_cable.{key}"), [own, other])]).unwrap();
        let verdict =
            |k: usize| found.candidates[k].checks.iter().find(|check| check.key == "ampacity").unwrap().verdict;
        assert!(verdict(0) != Verdict::NotChecked, "{key}: {:?}", verdict(0));
        assert_eq!(verdict(1), Verdict::NotChecked, "{key}");
        assert!(found.notes.iter().any(|note| note.contains("supply_cable.ampacity")), "{:?}", found.notes);
    }
}
