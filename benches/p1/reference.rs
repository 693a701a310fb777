//! The reference grid and the measure of error.

use super::samples::{COLUMNS, POINTS, time};

/// Grid points nearer to an event than this are left out.
const LEFT_OUT: f64 = 50e-6;

/// The reference run.
pub struct Reference {
    pub rows: Vec<[f64; 4]>,
    pub events: Vec<f64>,
}

/// How two grids differ, in units of the columns' sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    pub max: f64,
    pub rms: f64,
    /// Where the largest difference is.
    pub column: usize,
    pub at: f64,
}

impl Reference {
    /// The reference of P1: two methods and two independent codings that agree to 2.2e-7.
    pub fn p1() -> Self {
        Self::read(include_str!("../../tests/reference/p1_reference.csv"))
    }

    /// The reference of P1c: two methods that agree to 1.4e-7, a third with a coding of its own to 3.5e-8.
    pub fn p1c() -> Self {
        Self::read(include_str!("../../tests/reference/p1c_reference.csv"))
    }

    fn read(text: &str) -> Self {
        let numbers = |line: &str, by: char| -> Vec<f64> {
            line.split(by).filter(|word| !word.is_empty()).map(|word| word.parse().expect("a number")).collect()
        };
        let events =
            text.lines().find_map(|line| line.strip_prefix("# event times, s:")).expect("a line of event times");
        let rows = text.lines().filter(|line| !line.starts_with(['#', 'i']));
        let rows = rows.map(|line| numbers(line, ',').try_into().expect("four columns")).collect::<Vec<_>>();
        assert_eq!(rows.len(), POINTS);
        Self { rows, events: numbers(events, ' ') }
    }
}

/// Compares two grids, leaving out the neighbourhood of events.
pub fn difference(rows: &[[f64; 4]], reference: &[[f64; 4]], events: &[f64]) -> Difference {
    assert_eq!(rows.len(), reference.len(), "grids of unlike length");
    let mut found = Difference { max: 0.0, rms: 0.0, column: 0, at: 0.0 };
    let (mut squares, mut count) = (0.0, 0.0);
    for (point, (row, wanted)) in rows.iter().zip(reference).enumerate() {
        let t = time(point);
        if events.iter().any(|event| (t - event).abs() < LEFT_OUT) {
            continue;
        }
        for (column, (_, size)) in COLUMNS.iter().enumerate() {
            let error = ((row[column] - wanted[column]) / size).abs();
            squares += error * error;
            count += 1.0;
            // NaN is the largest of all.
            if error > found.max || error.is_nan() {
                (found.max, found.column, found.at) = (error, column, t);
            }
        }
    }
    found.rms = f64::sqrt(squares / count);
    found
}
