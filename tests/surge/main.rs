//! The surge study: checks that pass and fail, withstand times against closed forms, where the volts go, the report.

mod checks;
mod report;
mod stalled;
mod support;
mod volts;
mod withstand;
