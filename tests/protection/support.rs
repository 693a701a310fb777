//! What these tests share.

use stallpoint::circuit::{Circuit, Part, Run, TransientOptions};
use stallpoint::parts::{Breaker, CurrentSource, Resistor, TripBand};
use stallpoint::quantity::Fraction;

/// Asserts that two numbers agree to `relative`.
#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}

/// A band by invented points.
pub fn band() -> TripBand {
    TripBand::points([[1.1, 900.0], [2.0, 20.0], [6.0, 1.0]], [[1.4, 3600.0], [2.0, 80.0], [6.0, 4.0]]).unwrap()
}

/// A breaker of 50 A with that band.
pub fn breaker_at(position: f64) -> Breaker {
    Breaker { band_position: Fraction::from_si(position), ..Breaker::new("50 A", band()).unwrap() }
}

/// A source that sends its whole current through a device as long as that is closed: 1 Mohm beside it takes less than 1e-8
/// of it, and so much voltage builds up when it opens that the arc persists.
pub fn through(amperes: CurrentSource, device: impl Part + 'static) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", amperes, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("beside", Resistor::new("1 Mohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit.add("device", device, [("line", "p"), ("load", "ground")]).unwrap();
    circuit
}

/// When the device opens under a steady current, s; none when not by `until`.
pub fn opens_in(amperes: f64, device: impl Part + 'static, until: f64) -> Option<f64> {
    let options = TransientOptions { stop_at_event_of: Some("device".into()), ..TransientOptions::rtol(1e-6) };
    let run = through(CurrentSource::constant(amperes).unwrap(), device).transient(until, &options).unwrap();
    run.events.first().map(|event| event.time)
}

/// Last value of a state of the device.
pub fn last(run: &Run, state: &str) -> f64 {
    *run.state("device", state).unwrap().last().unwrap()
}

/// Words of the events of a part, in order.
pub fn words<'a>(run: &'a Run, part: &str) -> Vec<&'a str> {
    run.events.iter().filter(|event| event.part == part).map(|event| event.what.as_str()).collect()
}

/// Rows of a file under `tests/reference`, by column name.
pub fn reference(name: &str, rows: usize) -> Vec<std::collections::HashMap<String, String>> {
    let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    let cells = |line: &str| line.split(',').map(str::to_owned).collect::<Vec<_>>();
    let columns = cells(lines.next().unwrap());
    let read: Vec<_> = lines.map(|line| columns.iter().cloned().zip(cells(line)).collect()).collect();
    assert_eq!(read.len(), rows, "{name}");
    read
}

/// A number of a row; none in an empty cell.
pub fn number(row: &std::collections::HashMap<String, String>, column: &str) -> Option<f64> {
    let text = &row[column];
    (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text}")))
}
