//! Python bindings of stallpoint: conversion, errors and one helper for long calls. No physics here.

mod battery;
mod callback;
mod circuit;
mod commissioning;
mod conformance;
mod convert;
mod drive;
mod duty;
mod errors;
mod faults;
mod instruments;
mod interned;
mod long_call;
mod motor;
mod operating_point;
mod own_part;
mod part;
mod protection;
mod python;
mod records;
mod run;
mod signal;
mod sizing;
mod state;
mod study;
mod sweep;
mod trace;

use pyo3::prelude::*;

/// The native half of the package `stallpoint`; use that.
#[pymodule]
mod _stallpoint {
    #[pymodule_export]
    use crate::battery::fit_discharges;
    #[pymodule_export]
    use crate::circuit::Circuit;
    #[pymodule_export]
    use crate::commissioning::{CommissioningSheet, check_wiring, commissioning_sheet, swap_table, wiring_map};
    #[pymodule_export]
    use crate::conformance::check_part;
    #[pymodule_export]
    use crate::drive::{Control, Drive, Start};
    #[pymodule_export]
    use crate::duty::{Cycle, DutyStudy, duty_study};
    #[pymodule_export]
    use crate::faults::{Fault, FaultFinder, compare, fault_catalogue, readings};
    #[pymodule_export]
    use crate::instruments::{clamp_peak_hold, clamp_read, clamp_read_run};
    #[pymodule_export]
    use crate::long_call::_panic;
    #[pymodule_export]
    use crate::motor::{fit_motor, motor_reverses_on};
    #[pymodule_export]
    use crate::operating_point::OperatingPoint;
    #[pymodule_export]
    use crate::part::{NativePart, part_kinds};
    #[pymodule_export]
    use crate::protection::{ProtectiveDevice, miniature_breaker, standard_gates};
    #[pymodule_export]
    use crate::run::Run;
    #[pymodule_export]
    use crate::sizing::{
        all_corners, find_worst_corners, monte_carlo_table, sensitivity_rows, size_outcome, worst_day_corner,
    };
    #[pymodule_export]
    use crate::state::State;
    #[pymodule_export]
    use crate::study::{SurgeStudy, surge_study};
    #[pymodule_export]
    use crate::sweep::sweep_table;
    #[pymodule_export]
    use crate::trace::Trace;

    use super::*;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
