//! Both fidelities of the contactor on the starts of the demo drives: where both apply they agree.

use stallpoint::circuit::Signal;
use stallpoint::drive::{BOAT_LIFT, CONVEYOR_GATE, Direction, Drive, STAGE_LIFT, Start, StartOptions};
use stallpoint::parts::MovingArmature;
use stallpoint::quantity::Time;

fn drives() -> impl Iterator<Item = Drive> {
    [BOAT_LIFT, CONVEYOR_GATE, STAGE_LIFT].into_iter().map(|text| Drive::from_toml_str(text).unwrap())
}

fn start(drive: &Drive, direction: Direction) -> Start {
    drive.start(direction, &StartOptions::hold("2 s").unwrap()).unwrap()
}

fn detailed(drive: &Drive) -> Drive {
    let mut own = drive.clone();
    own.contactor.detailed = Some(MovingArmature::default());
    own
}

/// Letter of the set that a direction works.
fn set(direction: Direction) -> char {
    if direction == Direction::Forward { 'a' } else { 'b' }
}

/// When the coil first has its pull-in current.
fn reaches(drive: &Drive, start: &Start, direction: Direction) -> f64 {
    let current = Signal::State("contactor".into(), format!("coil_{}_current", set(direction)));
    start.crossing(&current, drive.contactor.pull_in_current(), true, 0.0).unwrap().unwrap()
}

fn makes(start: &Start, direction: Direction) -> f64 {
    let what = format!("set {} makes", set(direction).to_ascii_uppercase());
    start.events.iter().find(|event| event.what == what).unwrap_or_else(|| panic!("no \"{what}\"")).time
}

fn speed(start: &Start) -> f64 {
    start.sample(&[2.0]).unwrap().state("motor", "speed").unwrap()[0]
}

/// As long after `makes` as the contact closed and opened while it bounced.
fn bounces(start: &Start, direction: Direction) -> Vec<Time> {
    let first = makes(start, direction);
    let closed = start.state("contactor", &format!("supply_{}_closed", set(direction))).unwrap();
    let rows = start.time().iter().enumerate().skip(1);
    let toggles = rows.filter(|&(row, &t)| t > first && t < first + 0.03 && closed[row] != closed[row - 1]);
    toggles.map(|(_, &t)| Time::from_si(t - first)).collect()
}

fn close(name: &str, what: &str, found: f64, other: f64, bound: f64) {
    println!("{name}: {what} {found} and {other}");
    assert!((found / other - 1.0).abs() < bound, "{name}: {what} {found} and {other}");
}

/// As the data sheets have it: the coil's current rises alike until the armature moves, and what comes after the contacts
/// lie still is the same motor. In between the times differ, for the detailed one computes what the other is told: up to a third of
/// the operate time and, by other bounces, a tenth of the peak.
#[test]
fn prop_both_start_the_demo_drives_alike() {
    for quick in drives() {
        let moving = detailed(&quick);
        for direction in Direction::BOTH {
            let [q, d] = [&quick, &moving].map(|drive| start(drive, direction));
            let name = format!("{} {direction}", quick.name);
            close(&name, "pull-in at", reaches(&quick, &q, direction), reaches(&moving, &d, direction), 5e-3);
            close(&name, "makes at", makes(&q, direction), makes(&d, direction), 0.35);
            close(&name, "peak", q.surge.peak_current, d.surge.peak_current, 0.1);
            close(&name, "time to speed", q.surge.time_to_speed.unwrap(), d.surge.time_to_speed.unwrap(), 0.1);
            close(&name, "speed", speed(&q), speed(&d), 1e-4);
            assert_eq!((q.surge.stalled, q.surge.trips, q.surge.dropouts), (false, d.surge.trips, d.surge.dropouts));
        }
    }
}

/// Told the other's operate time and bounces, the quick one gives the same start: the rest of their equations is one.
#[test]
fn exact_the_quick_one_with_the_others_times_gives_its_start() {
    for quick in drives() {
        // Blow-out magnets make an arc's voltage hang on how far a bouncing blade flies, which only the detailed one knows.
        let quick = quick.with_values([("contactor.contacts.arc_voltage_per_metre", "0 V")]).unwrap();
        let moving = detailed(&quick);
        for direction in Direction::BOTH {
            let d = start(&moving, direction);
            let mut told = quick.clone();
            told.contactor.operate_time = Time::from_si(makes(&d, direction) - reaches(&moving, &d, direction));
            told.contactor.bounce = bounces(&d, direction);
            let q = start(&told, direction);
            let name = format!("{} {direction}, told", quick.name);
            close(&name, "makes at", makes(&q, direction), makes(&d, direction), 1e-3);
            close(&name, "peak", q.surge.peak_current, d.surge.peak_current, 1e-3);
            close(&name, "time to speed", q.surge.time_to_speed.unwrap(), d.surge.time_to_speed.unwrap(), 1e-3);
            close(&name, "speed", speed(&q), speed(&d), 1e-4);
        }
    }
}
