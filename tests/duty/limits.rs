//! Both sides of each limit, and times that just reach it.

use stallpoint::drive::Direction;
use stallpoint::report::Verdict;
use stallpoint::studies::duty::Cycle;

use super::support::{assert_close, check, forward, study, verdict};

#[test]
fn exact_winding_on_both_sides() {
    let cycle = forward(30.0, 300.0);
    let warm = study(&[], &cycle).part("motor winding").unwrap().highest;
    let with =
        |limit: f64| verdict(&[("motor.max_winding_temperature_c", &format!("{limit} degC"))], &cycle, "motor winding");
    assert_eq!(
        (with(warm - 0.01), with(warm + 0.01), with(warm + 40.0)),
        (Verdict::Fail, Verdict::Marginal, Verdict::Pass)
    );
}

#[test]
fn exact_cable_on_both_sides() {
    let cycle = Cycle::continuous(Direction::Forward);
    let part = study(&[], &cycle);
    let supply = part.part("supply cable").unwrap();
    // In air of 30 °C it settles at the insulation's limit at the ampacity.
    let current = supply.rms_current.unwrap();
    let with = |share: f64| {
        let amperes = format!("{} A", share * current);
        study(&[("supply_cable.ampacity", &amperes)], &cycle)
    };
    let at = with(1.0);
    assert_close(at.part("supply cable").unwrap().highest, 70.0, 1e-3, "at its ampacity");
    assert_eq!(check(&with(0.99), "supply cable").verdict, Verdict::Fail);
    assert_eq!(check(&with(1.02), "supply cable").verdict, Verdict::Marginal);
    assert_eq!(check(&with(0.99), "ground cable").verdict, Verdict::Pass);
    // In hotter air the same cable is too warm.
    let hot =
        stallpoint::studies::duty::DutyOptions { ambient_c: Some("45 degC".parse().unwrap()), ..Default::default() };
    let drive = super::support::boat_lift(&[("supply_cable.ampacity", &format!("{} A", 1.1 * current))]);
    let mut go_on = |_| stallpoint::circuit::Flow::Continue;
    let hot = stallpoint::studies::duty::duty_study_with(&drive, &cycle, &hot, &mut go_on).unwrap();
    assert_eq!(check(&hot, "supply cable").verdict, Verdict::Fail);
}

#[test]
fn exact_missing_data_are_named() {
    let cycle = forward(30.0, 300.0);
    let told = study(&[], &cycle);
    for (words, key) in [
        ("battery lead", "battery_lead.ampacity is missing"),
        ("Coil A", "contactor.duty_rating.coil_heat_capacity"),
        ("as long as the cycle asks", "contactor.duty_rating.longest_on_time is missing"),
        ("duty factor", "contactor.duty_rating.duty_factor is missing"),
    ] {
        let check = check(&told, words);
        assert_eq!(check.verdict, Verdict::NotChecked, "{words}");
        assert!(check.basis.contains(key), "{}", check.basis);
    }
}

#[test]
fn exact_breaker_on_both_sides() {
    let cycle = forward(20.0, 20.0);
    // Some 62 A through 40 A: the band's fastest device takes some 21 s, its slowest much longer.
    let values = |rated: &'static str, cooling: &'static str| {
        [("breaker.rated_current", rated), ("breaker.cooling_time_constant", cooling)]
    };
    let at = |rated, cooling| verdict(&values(rated, cooling), &cycle, "trips the breaker");
    assert_eq!(at("80 A", "60 s"), Verdict::Pass);
    assert_eq!(at("40 A", "60 s"), Verdict::May);
    assert_eq!(at("20 A", "60 s"), Verdict::Fail);
    // What one span leaves is still there in the next: with quick cooling the same breaker holds.
    let slow = study(&values("45 A", "100 s"), &cycle).part("breaker, fastest device").unwrap().highest;
    let quick = study(&values("45 A", "1 s"), &cycle).part("breaker, fastest device").unwrap().highest;
    assert!(slow > 2.0 * quick, "{slow} {quick}");
}

#[test]
fn exact_contactor_by_time_and_share() {
    let cycle = forward(30.0, 90.0);
    let on =
        |time: &str| verdict(&[("contactor.duty_rating.longest_on_time", time)], &cycle, "as long as the cycle asks");
    assert_eq!((on("29.9 s"), on("30.1 s"), on("60 s")), (Verdict::Fail, Verdict::Marginal, Verdict::Pass));
    let share = |share: &str| verdict(&[("contactor.duty_rating.duty_factor", share)], &cycle, "duty factor covers");
    assert_eq!((share("24.9 %"), share("25.1 %"), share("40 %")), (Verdict::Fail, Verdict::Marginal, Verdict::Pass));
    let continuous = [("contactor.duty", "continuous")];
    assert_eq!(verdict(&continuous, &cycle, "as long as the cycle asks"), Verdict::Pass);
    let for_ever = Cycle::continuous(Direction::Forward);
    assert_eq!(verdict(&continuous, &for_ever, "as long as the cycle asks"), Verdict::Pass);
    assert_eq!(verdict(&[], &for_ever, "as long as the cycle asks"), Verdict::Fail);
}

#[test]
fn exact_contacts_by_current_and_heat() {
    let cycle = forward(30.0, 90.0);
    let settled = study(&[], &cycle).contactor.settled_current;
    let rms = study(&[], &cycle).contactor.rms_current;
    assert!(rms < 0.6 * settled);
    let carrying = |amperes: f64, duty: &str, more: &[(&str, &str)]| {
        let amperes = format!("{amperes} A");
        let mut values = vec![("contactor.carrying_current", amperes.as_str()), ("contactor.duty", duty)];
        values.extend_from_slice(more);
        verdict(&values, &cycle, "contacts carry")
    };
    assert_eq!(carrying(0.99 * settled, "intermittent", &[]), Verdict::Fail);
    assert_eq!(carrying(1.01 * settled, "intermittent", &[]), Verdict::Marginal);
    assert_eq!(carrying(1.01 * settled, "continuous", &[]), Verdict::Marginal);
    assert_eq!(carrying(0.9 * settled, "continuous", &[]), Verdict::NotChecked);
    assert_eq!(carrying(0.9 * rms, "continuous", &[]), Verdict::Fail);
    let slow = [("contactor.duty_rating.contact_time_constant", "20 min")];
    let quick = [("contactor.duty_rating.contact_time_constant", "5 s")];
    assert_eq!(carrying(0.9 * settled, "continuous", &slow), Verdict::Pass);
    assert_eq!(carrying(0.9 * settled, "continuous", &quick), Verdict::Fail);
}

/// A coil at a constant voltage: P = V² / R(T), so T settles where (T - T_a) / R_th = V² / (R_20 (1 + α (T - 20))).
#[test]
fn exact_coil_on_both_sides() {
    let coil = [
        ("contactor.duty_rating.coil_heat_capacity", "60 J/K"),
        ("contactor.duty_rating.coil_thermal_resistance", "4 K/W"),
        ("contactor.duty", "continuous"),
    ];
    let for_ever = Cycle::continuous(Direction::Forward);
    let with = |more: &[(&str, &str)]| study(&[&coil[..], more].concat(), &for_ever);
    let t = with(&[]).part("coil A").unwrap().highest;
    // The coil's own voltage: what the wires of its control circuit leave of it.
    let drive = super::support::boat_lift(&[("contactor.coil.temperature_c", &format!("{t} degC"))]);
    let settled = stallpoint::circuit::OperatingOptions { settled: true, ..Default::default() };
    let op = drive.operating_point(Some(Direction::Forward), &settled).unwrap();
    let v = op.voltage("coil_a").unwrap() - op.voltage("coil_return").unwrap();
    let settles = 20.0 + 4.0 * v * v / (8.0 * (1.0 + 0.00393 * (t - 20.0)));
    assert_close(t, settles, 3e-3, "settled");
    let at = |limit: f64| {
        let limit = format!("{limit} degC");
        check(&with(&[("contactor.duty_rating.max_coil_temperature_c", &limit)]), "Coil A").verdict
    };
    assert_eq!((at(t - 0.1), at(t + 0.1), at(t + 20.0)), (Verdict::Fail, Verdict::Marginal, Verdict::Pass));
    let hot = |limit: f64| {
        let limit = format!("{limit} degC");
        check(&with(&[("limits.hot_coil_c", &limit)]), "pull-in is checked at").verdict
    };
    assert_eq!((hot(t - 0.1), hot(t + 20.0)), (Verdict::Fail, Verdict::Pass));
}

/// Cycles made as long and rests as short as told are at the limit; a little more is beyond.
#[test]
fn exact_longest_on_and_shortest_rest_just_reach_the_limit() {
    let winding = |on: f64, rest: f64| study(&[], &forward(on, rest)).part("motor winding").unwrap().clone();
    let told = winding(40.0, 200.0);
    let [Some(on), None] = told.longest_on else { panic!("forward only: {told:?}") };
    assert!(on > 40.0 && on < told.longest_on_from_cold.unwrap(), "{told:?}");
    assert_close(winding(on, 200.0).highest - 20.0, 135.0, 5e-3, "longest on");
    let rest = told.shortest_rest.unwrap();
    assert!(rest < 200.0);
    assert_close(winding(40.0, rest).highest - 20.0, 135.0, 5e-3, "shortest rest");
    let share = told.largest_duty_factor.unwrap();
    assert_close(winding(240.0 * share, 240.0 * (1.0 - share)).highest - 20.0, 135.0, 5e-3, "largest duty factor");
    // A single hold that is too long needs no rest: none is enough.
    assert_eq!(winding(200.0, 600.0).shortest_rest, Some(f64::INFINITY));
    let cable = study(&[], &forward(40.0, 200.0)).part("supply cable").unwrap().clone();
    assert_eq!(
        (cable.longest_on, cable.shortest_rest, cable.largest_duty_factor),
        ([Some(f64::INFINITY), None], Some(0.0), Some(1.0))
    );
}

fn two_runs(forward: f64, rest: f64, reverse: f64, last: f64) -> Cycle {
    let cycle = Cycle::new().forward(forward).unwrap().rest(rest).unwrap();
    cycle.reverse(reverse).unwrap().rest(last).unwrap()
}

/// Two runs in a cycle: what is told is one run, not their sum, and never more than from cold.
#[test]
fn exact_longest_on_is_of_one_run() {
    let cycle = |on: f64| two_runs(on, 5.0, 0.5 * on, 300.0);
    let winding = |on: f64| study(&[], &cycle(on)).part("motor winding").unwrap().clone();
    let told = winding(30.0);
    let [Some(forward), Some(reverse)] = told.longest_on else { panic!("{told:?}") };
    assert_close(reverse, 0.5 * forward, 1e-12, "stretched alike");
    assert!(forward < told.longest_on_from_cold.unwrap(), "{told:?}");
    assert_close(winding(forward).highest - 20.0, 135.0, 5e-3, "one run as long as told, the other half of it");
    // With rests so long that all is cold again, one short run after the other: no run may be longer than from cold.
    let rare = study(&[], &two_runs(30.0, 7200.0, 1.0, 7200.0));
    let rare = rare.part("motor winding").unwrap();
    for run in rare.longest_on.into_iter().flatten() {
        assert!(run <= 1.001 * rare.longest_on_from_cold.unwrap(), "{rare:?}");
    }
}

#[test]
fn exact_a_drive_that_stalls_or_chatters_fails() {
    let cycle = forward(10.0, 60.0);
    let stalled = [("ground_stud_joint.resistance", "0.13 ohm")];
    assert_eq!(verdict(&stalled, &cycle, "motor turns"), Verdict::Fail);
    assert_eq!(verdict(&[], &cycle, "motor turns"), Verdict::Pass);
    let chatters = [("ground_stud_joint.resistance", "0.13 ohm"), ("control.coil_return", "ground_stud")];
    let short = forward(1.0, 60.0);
    assert_eq!(verdict(&chatters, &short, "does not let go"), Verdict::Fail);
    assert_eq!(verdict(&[], &short, "does not let go"), Verdict::Pass);
}

#[test]
fn regress_the_answer_about_the_contactor_has_its_numbers() {
    let words = study(&[], &forward(30.0, 90.0)).contactor.words();
    for part in ["30 s at a stretch", "25 %", "62.5 A", "31.4 A rms", "30 times an hour"] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let html = study(&[], &forward(30.0, 90.0)).to_html();
    assert!(html.contains(">supply cable, ground cable, motor lead</text>") && !html.contains("NaN"));
    assert!(!study(&[], &Cycle::continuous(Direction::Forward)).to_html().contains("<svg"));
    let report = study(&[], &forward(30.0, 90.0)).to_text();
    assert!(
        report.contains("Continuous or intermittent contactor?") && report.lines().all(|l| l.chars().count() <= 120)
    );
}

/// A wound motor: its armature warms, its field stays as described, and what is missing is named where it stands.
#[test]
fn exact_a_series_motor() {
    let mut value = super::support::boat_lift(&[]).to_value().unwrap();
    value["motor"] = serde_json::json!({
        "kind": "series",
        "armature": {"resistance": "30 mohm", "inductance": "100 uH", "brush_drop": "0.8 V", "heat_capacity": "200 J/K",
                     "thermal_resistance": "0.8 K/W"},
        "field": {"resistance": "12 mohm", "inductance": "200 uH",
                  "magnetisation": {"kind": "measured", "speed": "1000 rpm", "field_current": [40, 80, 160, 320],
                                    "back_emf": [3.2, 5.2, 6.6, 7.4]}},
        "rotor": {"inertia": "0.002 kg m2"},
    });
    let cycle = forward(20.0, 200.0);
    let drive = stallpoint::Drive::from_value(value.clone()).unwrap();
    let study = stallpoint::studies::duty::duty_study(&drive, &cycle).unwrap();
    let check = check(&study, "motor winding");
    assert_eq!(
        (check.verdict, check.basis.as_str()),
        (Verdict::NotChecked, "motor.armature.max_winding_temperature_c is missing")
    );
    let winding = study.part("motor winding").unwrap();
    assert!(winding.highest > winding.lowest + 10.0 && winding.lowest > 20.0, "{winding:?}");
    // i² R over the time energised, less what gets out, warms it.
    let loss = 0.03 * (1.0 + 0.00393 * (0.5 * (winding.highest + winding.lowest) - 20.0));
    let heat = study.spans[0].motor_rms.powi(2) * loss * 20.0;
    let rise = heat / 200.0;
    assert!(
        winding.highest - winding.lowest < rise && winding.highest - winding.lowest > 0.7 * rise,
        "{winding:?} {rise}"
    );
    value["motor"]["armature"].as_object_mut().unwrap().remove("heat_capacity");
    let drive = stallpoint::Drive::from_value(value).unwrap();
    let study = stallpoint::studies::duty::duty_study(&drive, &cycle).unwrap();
    assert_eq!(study.not_known[0].missing, "motor.armature.heat_capacity is missing");
}

/// The study holds a cable's conductor at its own steady cycle: a cable that heats in its runs comes to the same.
#[test]
fn exact_a_heating_cable_has_the_same_steady_cycle() {
    let heats = stallpoint::drive::Drive::from_toml_str(stallpoint::drive::BOAT_LIFT).unwrap();
    let heats = heats.with_values([("supply_cable.heats", true)]).unwrap();
    let cycle = forward(40.0, 200.0);
    let hot = stallpoint::studies::duty::duty_study(&heats, &cycle).unwrap().part("supply cable").unwrap().clone();
    let held = study(&[], &cycle).part("supply cable").unwrap().clone();
    assert_eq!((hot.highest, hot.lowest), (held.highest, held.lowest));
}
