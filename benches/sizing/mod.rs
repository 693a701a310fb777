//! The search of the boat lift: 20 cables, 10 breakers, 6 contactors, 16 corners. All values invented.

use std::time::Instant;

use serde_json::Value;
use stallpoint::circuit::Flow;
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::studies::sizing::{Choice, Corner, Outcome, Row, SizingOptions, Tolerance, size_with};

/// The boat lift with the data that its file lacks.
fn drive() -> Drive {
    let complete = [
        ("limits.longest_hold", "15 s"),
        ("limits.circuit_class", "noncritical"),
        ("limits.contactor_on_time", "60 s"),
        ("limits.contactor_withstand_current", "1.5 kA"),
        ("limits.contactor_withstand_time", "1 s"),
        ("limits.isolator_making", "400 A"),
        ("limits.isolator_carrying", "150 A"),
        ("limits.isolator_breaking", "300 A"),
        ("battery.cold_cranking_amperes", "800 A"),
        ("breaker.interrupting_capacity", "5 kA"),
    ];
    let drive = Drive::from_toml_str(BOAT_LIFT).expect("the demo drive reads");
    drive.with_values(complete.map(|(key, value)| (key, Value::from(value)))).expect("the keys exist")
}

/// Ten sizes of the supply cable, each with a ground cable as thick or of 16 mm².
fn cables() -> Choice {
    let sizes = [("10 mm2", 60), ("8 AWG", 55), ("6 AWG", 75), ("16 mm2", 85), ("4 AWG", 95)];
    let more = [("25 mm2", 110), ("2 AWG", 130), ("35 mm2", 140), ("1 AWG", 150), ("50 mm2", 170)];
    let rows = sizes.into_iter().chain(more).flat_map(|(size, ampacity)| {
        let row = |name: String, ground: &str, ground_ampacity: i32| {
            let values = [
                ("supply_cable.cross_section", Value::from(size)),
                ("supply_cable.ampacity", Value::from(ampacity)),
                ("ground_cable.cross_section", Value::from(ground)),
                ("ground_cable.ampacity", Value::from(ground_ampacity)),
            ];
            Row::new(name, values).price(f64::from(ampacity + ground_ampacity))
        };
        [row(format!("{size} both ways"), size, ampacity), row(format!("{size}, 20 mm2 back"), "20 mm2", 98)]
    });
    Choice::catalogue("cables", rows)
}

fn breakers() -> Choice {
    let ratings = [50, 55, 60, 65, 70, 75, 80, 85, 90, 100];
    let rows = ratings.map(|rating| {
        Row::new(format!("{rating} A"), [("breaker.rated_current", rating)]).price(30.0 + 0.1 * f64::from(rating))
    });
    Choice::catalogue("breaker", rows)
}

/// Six contactors; `coils` different coils among them, the others differ in ratings only.
fn contactors(coils: usize) -> Choice {
    let rows = (0..6).map(|k| {
        let coil = k % coils;
        let values = [
            ("contactor.making_current", Value::from(200.0 + 40.0 * k as f64)),
            ("contactor.carrying_current", Value::from(70.0 + 10.0 * k as f64)),
            ("contactor.breaking_current", Value::from(160.0 + 25.0 * k as f64)),
            ("contactor.coil.resistance", Value::from(8.0 + coil as f64)),
            ("contactor.contacts.closed_resistance", Value::from(0.3e-3 - 0.02e-3 * coil as f64)),
        ];
        Row::new(format!("contactor {k}"), values).price(60.0 + 15.0 * k as f64)
    });
    Choice::catalogue("contactor", rows)
}

fn corners(drive: &Drive) -> Vec<Corner> {
    let cable = Tolerance::interval("supply_cable.temperature_c", -10.0, 60.0).and("ground_cable.temperature_c");
    let tolerances = [
        Tolerance::interval("battery.state_of_charge", "50 %", "100 %"),
        cable,
        Tolerance::interval("ground_stud_joint.resistance", "0.1 mohm", "2 mohm"),
        Tolerance::interval("load.0.running", "2.2 N m", "2.8 N m"),
    ];
    Corner::all(drive, &tolerances).expect("the tolerances read")
}

fn search(coils: usize, bounds: bool, threads: usize) -> (f64, Outcome) {
    let drive = drive();
    let choices = [cables(), breakers(), contactors(coils)];
    let options =
        SizingOptions { corners: corners(&drive), bounds, threads: Some(threads), ..SizingOptions::default() };
    let start = Instant::now();
    let found = size_with(&drive, &choices, &options, &mut |_| Flow::Continue).expect("the search is made");
    (start.elapsed().as_secs_f64(), found)
}

/// Processor time of this process so far, s: on shared cores it tells more than the clock on the wall. NaN elsewhere than on Linux.
fn processor_seconds() -> f64 {
    let Ok(text) = std::fs::read_to_string("/proc/self/stat") else { return f64::NAN };
    // Fields 14 and 15, counted behind the name in brackets: user and system time in hundredths (USER_HZ).
    let ticks = text.rsplit(')').next().unwrap_or_default().split_whitespace().skip(11).take(2);
    ticks.filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() / 100.0
}

/// Prints the table of the README. The longest takes a minute or so, hence only on demand.
pub fn print() {
    println!(
        "| six contactors | bounds | threads | s | CPU s | circuits | transients | transients/s | transients/CPU s | fit |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    for (coils, bounds, threads) in [(1, false, 2), (6, false, 2)] {
        let before = processor_seconds();
        let (seconds, found) = search(coils, bounds, threads);
        let busy = processor_seconds() - before;
        let fits = found.candidates.iter().filter(|c| c.state == stallpoint::studies::sizing::State::Fits).count();
        println!(
            "| {coils} coils | {bounds} | {threads} | {seconds:.1} | {busy:.1} | {} | {} | {:.0} | {:.0} | {fits} |",
            found.circuits,
            found.transients,
            found.transients as f64 / seconds,
            found.transients as f64 / busy
        );
    }
}

/// A small one for divan: two cables, two breakers, two corners.
#[divan::bench]
fn small(bencher: divan::Bencher) {
    let drive = drive();
    let mut choices = [cables(), breakers()];
    choices[0].rows.truncate(2);
    choices[1].rows.truncate(2);
    let options =
        SizingOptions { corners: corners(&drive)[..2].to_vec(), threads: Some(1), ..SizingOptions::default() };
    bencher.bench_local(|| size_with(&drive, &choices, &options, &mut |_| Flow::Continue).map(|found| found.circuits));
}
