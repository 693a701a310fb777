//! A drive that a fuse protects: its runs, its studies, its file, its errors.

use serde_json::json;

use crate::support::{assert_close, number, reference};
use stallpoint::drive::{BOAT_LIFT, Control, Direction, Drive, Trips, fault_catalogue};
use stallpoint::parts::load::{Load, ResistingTorque};
use stallpoint::parts::{Breaker, Fuse};
use stallpoint::report::{Check, Verdict};
use stallpoint::studies::surge::{SurgeStudy, surge_study};
use stallpoint::tables::trip_gates::FuseClass;

/// The boat lift behind a large blade fuse.
fn fused(rated: &str) -> Drive {
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, rated).unwrap()).unwrap();
    drive
}

/// Multiple, holds for, open within, by the gates of large blade fuses (ISO 8820-3, read; tests/reference/fuse_gates.csv).
fn maxi() -> Vec<(f64, f64, Option<f64>)> {
    let rows = reference("fuse_gates.csv", 22).into_iter();
    let rows = rows.filter(|row| row["class"] == "blade_maxi" && row["status"].starts_with("verified"));
    let rows: Vec<_> = rows
        .map(|row| {
            (number(&row, "percent").unwrap() / 100.0, number(&row, "t_min_s").unwrap(), number(&row, "t_max_s"))
        })
        .collect();
    assert_eq!(rows.len(), 5);
    rows
}

fn check<'s>(study: &'s SurgeStudy, key: &str, when: &str) -> &'s Check {
    let found = study.checks.iter().find(|check| check.key == key && check.when.contains(when));
    found.unwrap_or_else(|| panic!("{key}, {when}"))
}

#[test]
fn exact_a_stalled_drive_blows_its_fuse_when_its_own_current_says() {
    let mut drive = fused("60 A");
    drive.load.push(Load::ResistingTorque(ResistingTorque::new("1000 N m", "1000 N m").unwrap()));
    let control = Control::new().call(Direction::Forward, 0.0, 100.0).unwrap();
    let run = drive.run(&control, 100.0).unwrap();
    let words: Vec<_> = run.events.iter().filter(|event| event.part == "fuse").collect();
    assert_eq!(words[0].what, "blows");
    assert!(words.iter().all(|event| event.what != "recloses"));
    let blown = words[0].time;
    // ∫ dt / t(i) over the run's own current, by the midpoint rule on 20,000 pieces, until then.
    let n = 20_000;
    let h = blown / f64::from(n);
    let at: Vec<f64> = (0..n).map(|k| h * (f64::from(k) + 0.5)).collect();
    let current = run.sample(&at).unwrap().current("fuse").unwrap().to_vec();
    let device = drive.protection();
    let heated: f64 = current.iter().filter_map(|&i| Some(h / device.trip_time(0.5, i)?)).sum();
    assert_close(heated, 1.0, 1e-3, "accumulated when it blows");
    // Open for good: a leak of 1e-9 S at most.
    let last = *run.current("fuse").unwrap().last().unwrap();
    assert!(last.abs() < 1e-7, "{last}");
}

#[test]
fn val_a_start_is_held_against_both_edges_of_the_gates() {
    // What the fuse counts over a steady current: the fastest one holds as long as the gate asks, the slowest one is open when
    // the gate says so.
    let drive = fused("60 A");
    let device = drive.protection();
    for (multiple, holds, within) in maxi() {
        let over = |edge: f64, time: f64| device.accumulate(edge, &[0.0, time], &[60.0 * multiple; 2], 0.0).largest;
        assert!(over(0.0, holds) < 1.0, "{multiple} times for {holds} s on the fastest: {}", over(0.0, holds));
        if let Some(within) = within {
            assert!(over(1.0, within) >= 1.0, "{multiple} times for {within} s on the slowest: {}", over(1.0, within));
            // And no narrower a band than the gates allow: 0.1 % inside, a few per cent of time where the curve is steep.
            assert!(over(0.0, 1.05 * holds) >= 1.0 && over(1.0, 0.95 * within) < 1.0, "{multiple}");
        }
    }
    // The study's limits are those gates': what may run for ever, and the overload that the slowest still ends.
    let study = surge_study(&drive).unwrap();
    let [first, second] = [maxi()[0].0, maxi()[1].0].map(|multiple| 60.0 * multiple);
    assert_close(check(&study, "running_trip", "forward").limit.unwrap(), first, 2e-3, "held for ever");
    assert_close(check(&study, "small_overload", "").value.unwrap(), second, 2e-3, "overload that the slowest ends");
    // Forward it draws between the two: a fast fuse blows, a slow one does not.
    assert_eq!(check(&study, "running_trip", "forward").verdict, Verdict::May);
    assert_eq!(check(&study, "running_trip", "reverse").verdict, Verdict::Pass);
}

#[test]
fn val_a_stall_is_ended_between_the_gates_of_its_current() {
    let study = surge_study(&fused("60 A")).unwrap();
    let stalled = &study.stalled[0];
    // 171 A are 2.84 times 60 A: between the gates at 2 and at 3.5, so on log paper between their times.
    let multiple = stalled.current / 60.0;
    let rows = maxi();
    let after = rows.iter().position(|row| row.0 > multiple).unwrap();
    let (low, high) = (rows[after - 1], rows[after]);
    assert_eq!((low.0, high.0), (2.0, 3.5), "{multiple}");
    let share = (multiple / low.0).ln() / (high.0 / low.0).ln();
    let between = |from: f64, to: f64| (from.ln() + share * (to / from).ln()).exp();
    let [fast, slow] = stalled.trips_after.map(Option::unwrap);
    // The winding warms meanwhile and the current falls: later by no more than a few per cent for the fast one.
    let cold = between(low.1, high.1);
    assert!(fast > 0.99 * cold && fast < 1.05 * cold, "{fast} against {cold}");
    assert!(slow > between(low.2.unwrap(), high.2.unwrap()), "{slow}");
    let judged = check(&study, "stall_protection", "");
    assert!(judged.requirement.contains("fuse") && judged.verdict == Verdict::May, "{judged:?}");
}

#[test]
fn val_the_surge_is_held_against_the_melting_i2t_of_the_fastest_fuse() {
    let study = surge_study(&fused("60 A")).unwrap();
    let own = check(&study, "surge_i2t", "forward");
    // Beyond the last gate the melting I²t is that gate's: 0.04 s at 6 times 60 A.
    let last = maxi()[4];
    assert_close(own.limit.unwrap(), last.1 * (last.0 * 60.0).powi(2), 5e-3, "melting I²t");
    let start = &study.directions[0].start;
    let (until, n) = (start.surge.time_to_speed.unwrap(), 20_000);
    let h = until / f64::from(n);
    let at: Vec<f64> = (0..n).map(|k| h * (f64::from(k) + 0.5)).collect();
    let i2t: f64 = start.run.sample(&at).unwrap().current("fuse").unwrap().iter().map(|i| h * i * i).sum();
    assert_close(own.value.unwrap(), i2t, 1e-4, "surge");
    assert_eq!(own.verdict, Verdict::Pass);
    // A smaller fuse cannot be said to hold by its I²t alone; that the surge lasts is what saves it.
    let small = surge_study(&fused("30 A")).unwrap();
    let own = check(&small, "surge_i2t", "forward");
    assert!(own.value.unwrap() > own.limit.unwrap() && small.directions[0].start.surge.trips != Trips::No, "{own:?}");
    assert!(own.broken());
}

#[test]
fn exact_the_file_reads_back_and_a_fuse_takes_the_breakers_place() {
    let plain = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let values = [("breaker_out_joint.resistance", json!("5 mohm")), ("faults.series.breaker", json!("1 mohm"))];
    let bad = plain.with_values(values).unwrap();
    let drive = bad.with_values([("fuse", json!({"rated_current": "60 A", "class": "blade_maxi"}))]).unwrap();
    assert!(drive.breaker.is_none());
    assert_eq!(drive.joints["fuse_out_joint"].resistance.si(), 5e-3);
    assert_eq!(drive.faults.series["fuse"].si(), 1e-3);
    let names = drive.joint_names();
    assert!(names.contains(&"fuse_in_joint") && !names.contains(&"breaker_in_joint"), "{names:?}");
    let text = drive.to_toml().unwrap();
    assert!(text.contains("[fuse]") && !text.contains("[breaker]"), "{text}");
    assert_eq!(Drive::from_toml_str(&text).unwrap(), drive);
    let op = drive.operating_point(Some(Direction::Forward), &Default::default()).unwrap();
    let drop = op.voltage("fuse_out").unwrap() - op.voltage("fuse_out_lug").unwrap();
    assert_close(drop, 5e-3 * op.current("fuse").unwrap(), 1e-9, "joint");
    // And back.
    let breaker = serde_json::to_value(plain.breaker.as_ref().unwrap()).unwrap();
    assert_eq!(drive.with_values([("breaker", breaker)]).unwrap(), bad);
}

#[test]
fn exact_errors_name_the_device_and_what_to_do() {
    let drive = fused("60 A");
    let said = |result: Result<Drive, stallpoint::Error>| result.unwrap_err().to_string();
    let both = Drive { breaker: Drive::from_toml_str(BOAT_LIFT).unwrap().breaker, ..drive.clone() };
    let text = said(both.check().map(|()| both.clone()));
    assert!(text.contains("fuse") && text.contains("leave out the other"), "{text}");
    let neither = Drive { fuse: None, ..drive.clone() };
    let text = said(neither.check().map(|()| neither.clone()));
    assert!(text.contains("[breaker]") && text.contains("[fuse]"), "{text}");
    // It can be asked all the same, and says that nothing opens.
    assert_eq!((neither.protection().trip_time(1.0, 1e6), neither.protection().name()), (None, "breaker"));
    let text = said(drive.with_values([("fuse.rated_current", "200 A")]));
    assert!(text.contains("\"fuse\"") && text.contains("blade_maxi"), "{text}");
    let text = said(drive.with_values([("breaker.rated_current", "60 A")]));
    assert!(text.contains("the drive has a fuse, no breaker") && text.contains("whole table"), "{text}");
    let text = said(drive.with_values([("breaker_in_joint.resistance", "1 mohm")]));
    assert!(text.contains("breaker_in_joint") && text.contains("fuse_in_joint"), "{text}");
}

#[test]
fn prop_every_fault_of_a_fused_drive_can_be_made_and_a_blown_fuse_is_dead_behind_it() {
    let drive = fused("60 A");
    let catalogue = fault_catalogue(&drive);
    let names: Vec<String> = catalogue.iter().map(|entry| entry.name()).collect();
    for known in ["fuse blown", "fuse burnt", "fuse bridged", "fuse_in_joint corroded"] {
        assert!(names.iter().any(|name| name == known), "{known}");
    }
    assert!(!names.iter().any(|name| name.contains("breaker")), "{names:?}");
    assert_close(catalogue.iter().map(|entry| entry.prior).sum(), 1.0, 1e-12, "priors");
    for entry in &catalogue {
        drive.with_fault(&entry.at(0.5)).unwrap();
    }
    let blown = catalogue.iter().find(|entry| entry.name() == "fuse blown").unwrap();
    let op = drive
        .with_fault(&blown.at(0.5))
        .unwrap()
        .operating_point(Some(Direction::Forward), &Default::default())
        .unwrap();
    assert!(op.voltage("fuse_in").unwrap() > 12.0 && op.voltage("fuse_out").unwrap().abs() < 0.1);
    let bridged = catalogue.iter().find(|entry| entry.name() == "fuse bridged").unwrap();
    assert_eq!(drive.with_fault(&bridged.at(0.5)).unwrap().protection().trip_time(1.0, 2e3), None);
}

#[test]
fn exact_a_fuse_counts_as_the_breaker_with_its_band() {
    // The one difference is the band's owner: integrals over the same current are the same number.
    let fuse = Fuse::of_class(FuseClass::BladeMaxi, "60 A").unwrap();
    let mut breaker = Breaker::new("60 A", fuse.band()).unwrap();
    breaker.cooling_time_constant = fuse.cooling_time_constant;
    let (time, current) = ([0.0, 0.3, 0.5, 2.0], [200.0, 120.0, 20.0, 150.0]);
    let drive = fused("60 A");
    for edge in [0.0, 0.3, 1.0] {
        let own = drive.protection().accumulate(edge, &time, &current, 0.1);
        assert_eq!(own, breaker.accumulate(edge, &time, &current, 0.1));
        assert!(own.largest > 0.1);
    }
}
