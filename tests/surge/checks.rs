//! Every check passes and fails where it must, and says so when a datum is missing.

use stallpoint::report::Verdict::{self, Fail, May, NotChecked, Pass};
use stallpoint::studies::surge::Held;

use super::support::{checks, study, verdict};

/// Changed values, the words of the check, its worst verdict.
type Case = (&'static [(&'static str, &'static str)], &'static str, Verdict);

#[track_caller]
fn judge(cases: &[Case]) {
    for (values, words, expected) in cases {
        let study = study(values);
        assert_eq!(verdict(&study, words), *expected, "{words} with {values:?}: {:#?}", checks(&study, words));
    }
}

#[test]
fn exact_the_boat_lift_as_described() {
    let study = study(&[]);
    for words in [
        "No nuisance trip",
        "never trips",
        "95 %",
        "does not sag",
        "pulls in",
        "holds",
        "let go and operate",
        "supply run",
        "ground run",
        "joints together",
        "contactor does not drop",
        "main contacts",
        "rest contacts",
        "carries",
        "arc",
        "slowest device opens",
        "small overload",
    ] {
        assert_eq!(verdict(&study, words), Pass, "{words}");
    }
    assert_eq!(verdict(&study, "locked-rotor"), Verdict::Marginal);
    assert_eq!(verdict(&study, "within the"), Verdict::Marginal);
    assert_eq!(study.checks.len(), 48);
}

/// The published band of instability, 10 to 30 mV (tests/reference/contacts.toml): below it, within it, above it.
#[test]
fn val_joints_are_judged_by_the_published_band() {
    let all: toml::Table = toml::from_str(include_str!("../reference/contacts.toml")).unwrap();
    let band = |key: &str| all["corroded_joint"][key].as_float().unwrap();
    let (least, most) = (band("instability_delta_V_min"), band("instability_delta_V_max"));
    let mut seen = Vec::new();
    for ohms in ["0.1 mohm", "0.2 mohm", "1 mohm"] {
        let study = study(&[("ground_stud_joint.resistance", ohms)]);
        let own = checks(&study, "run away");
        assert_eq!(own.len(), 2);
        for (check, facts) in own.into_iter().zip(&study.facts.directions) {
            let joints = facts.volts_at_end.drops.iter().filter(|drop| drop.element.ends_with("_joint"));
            let largest = joints.map(|drop| drop.volts.abs()).fold(0.0, f64::max);
            let (verdict, limit) = match largest {
                drop if drop < least => (Pass, least),
                drop if drop <= most => (Verdict::Marginal, most),
                _ => (Fail, most),
            };
            assert_eq!((check.value, check.verdict, check.limit), (Some(largest), verdict, Some(limit)), "{check:?}");
            seen.push(verdict);
        }
    }
    // Forward some 63 A, reverse some 40 A.
    assert_eq!(seen, [Pass, Pass, Verdict::Marginal, Pass, Fail, Fail]);
}

/// A band so fast that the surge trips the fastest device, and one that trips every device.
#[test]
fn exact_nuisance_trips() {
    let with_band = |fastest: [[f64; 2]; 2], slowest: [[f64; 2]; 2]| {
        let mut drive = super::support::boat_lift();
        drive.breaker.as_mut().unwrap().trip_band = stallpoint::parts::TripBand::points(fastest, slowest).unwrap();
        stallpoint::studies::surge::surge_study(&drive).unwrap()
    };
    let may = with_band([[1.1, 0.5], [2.0, 0.02]], [[1.35, 100.0], [2.0, 20.0]]);
    assert_eq!(verdict(&may, "No nuisance trip"), May);
    let will = with_band([[1.1, 0.05], [2.0, 0.005]], [[1.35, 0.03], [2.0, 0.01]]);
    assert_eq!(verdict(&will, "No nuisance trip"), Fail);
    let check = checks(&may, "No nuisance trip")[0];
    assert!(check.value.unwrap() > 1.0 && check.margin.unwrap() < 0.0);
}

#[test]
fn exact_running_for_ever() {
    judge(&[
        (&[("breaker.rated_current", "50 A")], "never trips", May),
        (&[("breaker.rated_current", "45 A")], "never trips", Fail),
    ]);
}

#[test]
fn exact_speed_and_sag() {
    judge(&[
        (&[("limits.time_to_speed", "0.1 s")], "95 %", Fail),
        (&[("load.0.breakaway", "20 N m"), ("load.0.running", "20 N m")], "95 %", Fail),
        (&[("limits.time_to_speed", "left out")], "95 %", NotChecked),
        (&[("limits.least_battery_voltage", "12 V")], "does not sag", Fail),
        (&[("limits.least_battery_voltage", "left out")], "does not sag", NotChecked),
    ]);
}

#[test]
fn exact_coil() {
    judge(&[
        (&[("limits.hot_coil_c", "220 degC")], "pulls in", Fail),
        (&[("limits.hot_coil_c", "left out")], "pulls in", NotChecked),
        // It never makes: a failure with or without a limit.
        (&[("contactor.pull_in_voltage", "12.9 V")], "pulls in", Fail),
        (&[("contactor.pull_in_voltage", "12.9 V"), ("limits.hot_coil_c", "left out")], "pulls in", Fail),
        (&[("contactor.pull_in_voltage", "12.9 V")], "holds", NotChecked),
        (&[("contactor.highest_drop_out_voltage", "9.5 V")], "holds", Fail),
        (&[("control.coil_return", "ground_stud"), ("ground_stud_joint.resistance", "0.13 ohm")], "let go", Fail),
    ]);
}

/// Chattering, the drive is in no settled state whose volts and amperes could be judged.
#[test]
fn exact_a_chattering_drive_is_not_judged_by_its_last_instant() {
    let study = study(&[("control.coil_return", "ground_stud"), ("ground_stud_joint.resistance", "0.13 ohm")]);
    assert_eq!(study.directions[0].held(), Held::Chattering);
    for words in ["supply run", "joints together", "contactor does not drop", "never trips"] {
        let check = checks(&study, words)[0];
        assert_eq!((check.verdict, check.value), (NotChecked, None), "{words}");
        assert!(check.basis.contains("chatters"), "{words}: {}", check.basis);
    }
}

/// The highest drop-out of the data sheet decides, not the typical one.
#[test]
fn exact_hold_takes_the_highest_drop_out_with_a_hot_coil() {
    let plain = study(&[]);
    let copper = 1.0 + 0.00393 * 50.0; // 70 °C, IEC 60028
    assert!((checks(&plain, "holds")[0].limit.unwrap() / (4.5 * copper) - 1.0).abs() < 1e-12);
    let highest = study(&[("contactor.highest_drop_out_voltage", "6 V")]);
    assert!((checks(&highest, "holds")[0].limit.unwrap() / (6.0 * copper) - 1.0).abs() < 1e-12);
}

#[test]
fn exact_voltage_drops() {
    judge(&[
        (&[("limits.supply_drop", "4 %")], "supply run", Fail),
        (&[("limits.supply_drop", "left out")], "supply run", NotChecked),
        (&[("limits.ground_drop", "3 %")], "ground run", Fail),
        (&[("limits.ground_drop", "left out")], "ground run", NotChecked),
        (&[("limits.joints_drop", "0.2 %")], "joints together", Fail),
        (&[("limits.joints_drop", "left out")], "joints together", NotChecked),
        (&[("limits.contactor_drop", "0.1 %")], "contactor does not drop", Fail),
        (&[("limits.contactor_drop", "left out")], "contactor does not drop", NotChecked),
    ]);
}

#[test]
fn exact_contact_ratings() {
    judge(&[
        (&[("contactor.making_current", "158 A")], "main contacts", Fail),
        (&[("contactor.making_current", "158 A")], "rest contacts", Pass),
        (&[("contactor.making_current", "120 A")], "rest contacts", Fail),
        (&[("contactor.making_current", "left out")], "main contacts", NotChecked),
        (&[("contactor.carrying_current", "60 A")], "carries", Fail),
        (&[("contactor.carrying_current", "left out")], "carries", NotChecked),
        (&[("contactor.breaking_current", "160 A")], "locked-rotor", Fail),
        (&[("contactor.breaking_current", "250 A")], "locked-rotor", Pass),
        (&[("contactor.breaking_current", "left out")], "locked-rotor", NotChecked),
    ]);
}

/// What a rest contact makes is the braking current after it has closed, not the surge that the closed one carries.
#[test]
fn exact_rest_contacts_are_held_against_what_they_make() {
    let study = study(&[]);
    let made = checks(&study, "rest contacts")[0].value.unwrap();
    let motor = study.peaks.iter().find(|part| part.part == "motor").unwrap();
    let release = motor.peaks.iter().filter(|peak| peak.1 == "release").map(|peak| peak.2).fold(0.0, f64::max);
    assert!((made / release - 1.0).abs() < 1e-3, "{made} against {release}");
    assert!(made < study.directions[0].start.surge.peak_motor_current);
}

/// An arc that the battery can feed at full gap: no gradient, and a minimum below the battery's voltage.
#[test]
fn exact_an_arc_that_persists_fails() {
    let mut drive = super::support::boat_lift();
    drive.contactor.contacts.arc_voltage = "3 V".parse().unwrap();
    drive.contactor.contacts.arc_voltage_per_metre = "0 V".parse().unwrap();
    drive.contactor.rest = stallpoint::parts::RestPosition::Open;
    let study = stallpoint::studies::surge::surge_study(&drive).unwrap();
    let check = checks(&study, "arc")[0];
    assert_eq!(check.verdict, Fail);
    assert!(check.value.unwrap() >= 1.0 && check.when.contains("arc persists"), "{check:?}");
    // Open at rest: there are no rest contacts to make anything.
    assert!(study.checks.iter().all(|check| !check.requirement.contains("rest contacts")));
}

/// Contacts made for 12 V on the two larger drives: two gaps in series hold 33 V, which is enough for 24 V and not for 48 V.
#[test]
fn exact_contacts_made_for_12_volts_fail_at_48() {
    for (text, verdict) in [(stallpoint::drive::CONVEYOR_GATE, Pass), (stallpoint::drive::STAGE_LIFT, Fail)] {
        let mut drive = stallpoint::Drive::from_toml_str(text).unwrap();
        drive.contactor.contacts = Default::default();
        let study = stallpoint::studies::surge::surge_study(&drive).unwrap();
        let check = checks(&study, "arc")[0];
        println!("{}: {check:?}", drive.name);
        let ours = check.when.contains("contactor") || verdict == Pass;
        assert!(ours, "{check:?}");
        assert_eq!(check.verdict == Fail, verdict == Fail, "{check:?}");
    }
}

/// A management that cuts off below what a stall draws: the study says when.
#[test]
fn exact_a_battery_that_cuts_off_fails() {
    let judged = |over_current: f64| {
        let drive = stallpoint::Drive::from_toml_str(stallpoint::drive::STAGE_LIFT).unwrap();
        let drive = drive.with_values([("battery.cut_off.over_current", over_current)]).unwrap();
        let study = stallpoint::studies::surge::surge_study(&drive).unwrap();
        let check = checks(&study, "management")[0].clone();
        println!("{check:?}");
        check
    };
    assert_eq!(judged(900.0).verdict, Pass);
    // Held stalled for 0.5 s it draws some 659 A; the delay is 0.1 s.
    let cut = judged(550.0);
    assert!(cut.verdict == Fail && cut.when.contains("stalled start"), "{cut:?}");
}

#[test]
fn exact_protection_of_the_cables() {
    judge(&[
        (
            &[("supply_cable.cross_section", "4 mm2"), ("supply_cable.ampacity", "32 A")],
            "before the supply cable",
            Fail,
        ),
        (
            &[("ground_cable.cross_section", "4 mm2"), ("ground_cable.ampacity", "32 A")],
            "before the ground cable",
            Fail,
        ),
        (&[("supply_cable.ampacity", "left out")], "before the supply cable", NotChecked),
        (&[("supply_cable.ampacity", "75 A")], "within the supply cable", Fail),
        (&[("supply_cable.ampacity", "100 A")], "within the supply cable", Pass),
        (&[("supply_cable.ampacity", "left out")], "within the supply cable", NotChecked),
        (&[("supply_cable.ampacity", "70 A")], "small overload of the supply cable", Fail),
        (&[("supply_cable.ampacity", "left out")], "small overload of the supply cable", NotChecked),
        (&[], "can break the fault", NotChecked),
        (&[("breaker.interrupting_capacity", "1 kA")], "can break the fault", Fail),
        (&[("breaker.interrupting_capacity", "5 kA")], "can break the fault", Pass),
    ]);
}

/// By hand: 12.75 V over the battery's 6 mΩ, its leads, four joints, isolator and breaker.
#[test]
fn exact_fault_current_behind_the_breaker() {
    let study = study(&[]);
    let drive = &study.drive;
    let lead = |cable: &Option<stallpoint::parts::Cable>| cable.as_ref().unwrap().resistance();
    let loop_resistance =
        6e-3 + 4.0 * 1e-4 + lead(&drive.battery_lead) + lead(&drive.isolator_lead) + 0.3e-3 + 0.8e-3 + 1e-6; // the short
    let fault = checks(&study, "can break the fault")[0].value.unwrap();
    let expected = drive.battery.open_circuit_voltage() / loop_resistance;
    assert!((fault / expected - 1.0).abs() < 1e-6, "{fault} against {expected}");
}

#[test]
fn exact_a_contactor_that_never_pulls_in_is_said_first() {
    let dead = study(&[("contactor.pull_in_voltage", "12.4 V"), ("battery.state_of_charge", "10 %")]);
    assert!(dead.summary().starts_with("The contactor does not pull in, forward and reverse"), "{}", dead.summary());
    assert!(dead.to_markdown().contains("The contactor does not pull in, forward and reverse"));
    assert_eq!(verdict(&dead, "pulls in"), Fail);
    // What hangs on a start is neither passed nor failed.
    for words in [
        "No nuisance trip",
        "never trips",
        "95 %",
        "does not sag",
        "contactor does not drop",
        "main contacts",
        "carries",
    ] {
        let found = checks(&dead, words);
        assert!(
            found.iter().all(|check| check.verdict == NotChecked && check.basis.starts_with("not reached")),
            "{found:#?}"
        );
    }
    // What needs no start is judged all the same.
    assert_eq!(verdict(&dead, "small overload"), Pass);
    assert!(!study(&[]).summary().contains("does not pull in"));
}

/// A magnetic element, or a fuse that is blown now, does not lessen what the device must break.
#[test]
fn exact_a_dead_short_is_what_flows_before_anything_opens() {
    let fault = |drive: &stallpoint::drive::Drive| {
        let study = stallpoint::studies::surge::surge_study(drive).unwrap();
        let check = study.checks.iter().find(|check| check.key == "interrupting").unwrap().clone();
        (check.value.unwrap(), check.verdict)
    };
    let weak = super::support::with(&[("breaker.interrupting_capacity", "1 kA"), ("breaker.reset", "manual")]);
    let mut quick = weak.clone();
    quick.breaker.as_mut().unwrap().magnetic = Some(stallpoint::parts::MagneticTrip::new(5.0, 10.0));
    assert_eq!(fault(&weak).1, Fail);
    assert_eq!(fault(&quick), fault(&weak));
    let mut fused = weak.clone();
    let mut fuse =
        stallpoint::parts::Fuse::of_class(stallpoint::tables::trip_gates::FuseClass::BladeMaxi, "80 A").unwrap();
    fuse.interrupting_capacity = Some("1 kA".parse().unwrap());
    fused.protect_by(fuse).unwrap();
    let mut blown = fused.clone();
    blown.fuse.as_mut().unwrap().spent = true;
    assert_eq!(fault(&fused).1, Fail);
    assert_eq!(fault(&blown), fault(&fused));
}
