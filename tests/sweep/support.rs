//! What the sweep tests share.

use stallpoint::circuit::Flow;
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::studies::sweep::{Axis, Measure, SweepOptions, SweepTable, sweep};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

/// Starts held for a time, s.
pub fn held(hold: f64) -> SweepOptions {
    SweepOptions { hold, ..SweepOptions::default() }
}

pub fn measures(names: &[&str]) -> Vec<Measure> {
    Measure::list(names).unwrap()
}

/// A sweep that nobody watches.
pub fn swept(axes: &[Axis], names: &[&str], options: &SweepOptions) -> SweepTable {
    sweep(&boat_lift(), axes, &measures(names), options, &mut |_| Flow::Continue).unwrap()
}

/// The text of the error of a sweep that makes no case.
pub fn refused(axes: &[Axis], measures: &[Measure], options: &SweepOptions) -> String {
    let mut looks = 0;
    let count = &mut |_| {
        looks += 1;
        Flow::Continue
    };
    let error = sweep(&boat_lift(), axes, measures, options, count).unwrap_err();
    assert_eq!(looks, 0, "refused before any case");
    error.to_string()
}

/// Bits, so that NaN equals NaN.
pub fn bits(values: &[f64]) -> Vec<u64> {
    values.iter().map(|value| value.to_bits()).collect()
}
