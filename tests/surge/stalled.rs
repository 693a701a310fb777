//! The stalled drive: what is told of it.

use stallpoint::circuit::Signal;
use stallpoint::drive::{Control, Direction, First};
use stallpoint::report::Verdict;
use stallpoint::studies::surge::{JointState, StalledCase};

use super::support::{assert_close, checks, study, with};

fn case(cases: &[StalledCase], direction: Direction, state: JointState) -> &StalledCase {
    cases.iter().find(|case| case.direction == direction && case.joint_state == state).unwrap()
}

#[test]
fn exact_a_corroded_joint_stalls_below_the_rating_and_is_not_protected() {
    let study = study(&[]);
    let bad = case(&study.stalled, Direction::Forward, JointState::AtThreshold);
    let threshold = study.thresholds[0].stalls_at.unwrap();
    assert_close(bad.joint_resistance, 1.000_01 * threshold, 1e-9, "resistance");
    // Breakaway 3.1 N·m and the boat's 0.6 N·m over 0.05 N·m/A: 74 A, less by the hundred-thousandth that the joint is worse, yet more
    // than the running current; less than the breaker's 80 A.
    assert!(bad.current < 74.0 && bad.current > 73.9, "{}", bad.current);
    assert_close(bad.joint_power, bad.current * bad.current * bad.joint_resistance, 1e-3, "heat");
    assert_eq!((bad.trips_after, bad.protected()), ([None, None], Some(false)));
    let advice = bad.advice().unwrap();
    let seconds = bad.hold_limit().unwrap().floor();
    assert_eq!(advice, format!("not protected by the breaker: limit the hold to {seconds} s"));

    let check = checks(&study, "Stalled forward")[1];
    assert_eq!((check.verdict, check.value, check.margin), (Verdict::Fail, None, None));
    assert_eq!(check.requirement, format!("Stalled forward: the breaker opens in time ({advice})"));
}

#[test]
fn exact_a_slow_breaker_may_be_too_late() {
    let study = study(&[]);
    let sound = case(&study.stalled, Direction::Forward, JointState::AsNew);
    let [fast, slow] = sound.trips_after;
    let limit = sound.hold_limit().unwrap();
    // The hot winding lets so little through that the slowest device never opens.
    assert!(fast.unwrap() < limit && slow.is_none(), "{fast:?} {slow:?}");
    let check = checks(&study, "Stalled forward")[0];
    assert_eq!(check.verdict, Verdict::May);
    assert!(check.requirement.contains("not protected by a slow breaker: limit the hold to 18 s"), "{check:?}");
}

#[test]
fn exact_a_quicker_breaker_protects() {
    let heavy = study(&[("motor.heat_capacity", "1500 J/K")]);
    assert_eq!(checks(&heavy, "Stalled forward")[0].verdict, Verdict::Pass);
    assert_eq!(case(&heavy.stalled, Direction::Forward, JointState::AsNew).advice(), None);
}

/// The whole drive, blocked and held: its winding warms, its current falls, and its breaker opens when the study says.
#[test]
fn exact_a_held_stall_against_a_transient() {
    // A battery that neither polarises nor runs down, for the study takes it as it stands.
    let values = [
        ("ground_stud_joint.resistance", "0.1 mohm"),
        ("battery.polarisation_resistance", "left out"),
        ("battery.polarisation_capacitance", "left out"),
        ("battery.capacity", "1e6 Ah"),
        ("load.0.running", "20 N m"),
        ("load.0.breakaway", "20 N m"),
    ];
    // A light winding is at its limit before the slowest device opens; a heavy one waits for the trip.
    for (edge, band_position, heat_capacity) in [(0, "0", "150 J/K"), (1, "1", "150 J/K"), (1, "1", "1500 J/K")] {
        let more = [("breaker.band_position", band_position), ("motor.heat_capacity", heat_capacity)];
        let drive = with(&[&values[..], &more].concat());
        let told = stallpoint::studies::surge::surge_study(&drive).unwrap();
        let told = case(&told.stalled, Direction::Forward, JointState::AsNew);
        let run = drive.run(&Control::new().forward(0.0, 100.0).unwrap(), 100.0).unwrap();
        // The study counts from the instant at which the contactor has made.
        let made = run.crossing(&Signal::Current("motor".into()), 50.0, true, 0.0).unwrap().unwrap();
        let trip = run.events.iter().find(|event| event.what == "trips").map(|event| event.time - made);
        let winding = Signal::State("motor".into(), "winding_temperature".into());
        let limit = run.crossing(&winding, 155.0, true, 0.0).unwrap().map(|time| time - made);
        assert!(trip.is_some() || limit.is_some());
        if let Some(trip) = trip {
            assert_close(told.trips_after[edge].unwrap(), trip, 1e-3, "trip");
        }
        if let Some(limit) = limit {
            assert_close(told.winding_limit_after.unwrap(), limit, 1e-3, "winding at 155 °C");
        }
    }
}

#[test]
fn exact_a_current_that_nothing_gets_hot_from_needs_no_breaker() {
    let cool = study(&[("motor.thermal_resistance", "0.1 K/W")]);
    let check = checks(&cool, "Stalled forward")[1];
    assert_eq!((check.verdict, check.limit), (Verdict::Pass, Some(f64::INFINITY)), "{check:?}");
}

#[test]
fn exact_a_winding_already_at_its_limit_may_not_be_held() {
    let hot = study(&[("motor.winding_temperature_c", "155 degC")]);
    let case = case(&hot.stalled, Direction::Forward, JointState::AsNew);
    assert_eq!((case.winding_limit_after, case.protected()), (Some(0.0), Some(false)));
}

#[test]
fn exact_without_the_windings_data_it_is_not_checked() {
    let unknown = study(&[("motor.heat_capacity", "left out")]);
    let check = checks(&unknown, "Stalled forward")[0];
    assert_eq!(check.verdict, Verdict::NotChecked);
    assert!(check.basis.contains("motor.heat_capacity"), "{}", check.basis);
}

#[test]
fn exact_a_drive_described_with_a_bad_joint_is_looked_at_as_described() {
    let bad = study(&[("ground_stud_joint.resistance", "30 mohm")]);
    let described = case(&bad.stalled, Direction::Forward, JointState::AsDescribed);
    assert_eq!(described.joint_resistance, 0.03);
    assert_eq!(bad.stalled.len(), 6);
}

#[test]
fn exact_with_the_coils_on_the_ground_stud_lowering_chatters_first() {
    let study = study(&[("control.coil_return", "ground_stud")]);
    assert_eq!(study.thresholds.map(|threshold| threshold.which_first), [First::Stalls, First::DropsOut]);
    let reverse = case(&study.stalled, Direction::Reverse, JointState::AtThreshold);
    assert!(reverse.drops_out && !case(&study.stalled, Direction::Forward, JointState::AtThreshold).drops_out);
    let check = checks(&study, "Stalled reverse")[1];
    assert_eq!(check.verdict, Verdict::Fail);
    assert!(check.basis.contains("chatters"), "{}", check.basis);
}

/// A load that hangs so heavily that it turns the shaft back is not a drive that breaks away.
#[test]
fn exact_a_load_that_runs_away_is_a_stall_threshold_of_its_own() {
    let heavy = study(&[("load.1.torque", "3.5 N m")]);
    // Raised: (3.1 + 3.5) N·m over 0.05 N·m/A must flow. Lowered: it goes by itself.
    assert!(heavy.thresholds[0].stalls_at.unwrap() > 0.0);
    assert_eq!(heavy.thresholds[1].stalls_at, None);
}

/// A jammed shaft with a joint in between draws less than the breaker needs and heats the winding sooner than at the threshold.
#[test]
fn exact_the_worst_joint_in_between_is_told() {
    let study = study(&[("motor.heat_capacity", "1500 J/K")]);
    assert_eq!(case(&study.stalled, Direction::Forward, JointState::AsNew).protected(), Some(true));
    let worst = case(&study.stalled, Direction::Forward, JointState::AtItsWorst);
    let threshold = case(&study.stalled, Direction::Forward, JointState::AtThreshold);
    assert!(worst.advice().is_some() && worst.hold_limit().unwrap() < 0.98 * threshold.hold_limit().unwrap());
    assert!(worst.current > threshold.current);
    // Drives described with a joint like that are told no shorter time, wherever between it is.
    for milliohm in [3, 10, 20, 40, 60, 80] {
        let values =
            [("motor.heat_capacity", "1500 J/K"), ("ground_stud_joint.resistance", &format!("{milliohm} mohm"))];
        let described = stallpoint::studies::surge::surge_study(&with(&values)).unwrap();
        let described = case(&described.stalled, Direction::Forward, JointState::AsDescribed);
        let longer =
            described.protected() == Some(true) || described.hold_limit().unwrap() > 0.95 * worst.hold_limit().unwrap();
        assert!(longer, "{milliohm} mΩ: {:?} s, worst {:?} s", described.hold_limit(), worst.hold_limit());
    }
}

/// Without the winding's data nothing says that a stall ends in time for it, and every time to hold says what it leaves out.
#[test]
fn exact_an_unknown_winding_is_said() {
    // Lines are wrapped: words only.
    let text = study(&[("motor.heat_capacity", "left out")]).to_text();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("what the winding withstands is not known"), "{text}");
    assert!(
        !text.contains("in time for winding and cable") && !text.contains("neither winding nor cable gets"),
        "{text}"
    );
}
