//! P1c by IDA: `ida/run.c`, whose equations are coded a second time in C.

use std::ffi::{c_int, c_long};
use std::time::Instant;

use crate::outcome::Outcome;
use crate::p1::POINTS;

/// Options of a run; as in `ida/run.h`, which explains them.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Options {
    pub rtol: f64,
    pub atol: f64,
    pub sparse: c_int,
    pub keep_analysis: c_int,
    pub max_order: c_int,
    pub suppress_algebraic: c_int,
    pub max_step: f64,
    pub first_step: f64,
    pub restart_step: f64,
    pub nonlinear: f64,
    pub newton_most: c_int,
    pub rescues: c_int,
    pub scale_solution: c_int,
}

impl Options {
    /// Those of the tight run that the reference is held against.
    pub const TIGHT: Self = Self {
        rtol: 1e-10,
        atol: 1.0,
        sparse: 0,
        keep_analysis: 1,
        max_order: 5,
        suppress_algebraic: 1,
        max_step: 0.0,
        first_step: 0.0,
        restart_step: 1e-11,
        nonlinear: 0.33,
        newton_most: 4,
        rescues: 20,
        scale_solution: 1,
    };
}

#[repr(C)]
#[derive(Clone, Copy)]
struct Stats {
    steps: c_long,
    error_failures: c_long,
    newton_failures: c_long,
    newton: c_long,
    jacobians: c_long,
    restart_newton: c_long,
    events: c_int,
    arcs: c_int,
    flag: c_int,
    rescues: c_int,
    stopped_at: f64,
    event_times: [f64; 64],
}

#[repr(C)]
struct Raw {
    _private: [u8; 0],
}

unsafe extern "C" {
    fn p1c_open(options: *const Options) -> *mut Raw;
    fn p1c_run(session: *mut Raw, samples: *mut f64, stats: *mut Stats) -> c_int;
    fn p1c_close(session: *mut Raw);
}

/// An IDA memory with its analysis done and its direct-current solution found.
pub struct Session(*mut Raw);

impl Session {
    pub fn open(options: &Options) -> Option<Self> {
        // SAFETY: C copies the options; the result is checked.
        let raw = unsafe { p1c_open(options) };
        (!raw.is_null()).then_some(Self(raw))
    }

    pub fn run(&mut self) -> Outcome {
        let mut rows = vec![[0.0; 4]; POINTS];
        // SAFETY: numbers alone, for which all bits zero are a value.
        let mut stats: Stats = unsafe { std::mem::zeroed() };
        let clock = Instant::now();
        // SAFETY: the session is open, and C writes 4 * POINTS numbers and one `Stats`.
        let flag = unsafe { p1c_run(self.0, rows.as_mut_ptr().cast(), &mut stats) };
        let seconds = clock.elapsed().as_secs_f64();
        let failure = (flag != 0).then(|| format!("IDA's flag {flag} at {} s", stats.stopped_at));
        let events = stats.event_times[..(stats.events as usize).min(64)].to_vec();
        Outcome {
            seconds,
            rows,
            events,
            arcs: stats.arcs as u32,
            steps: stats.steps as u64,
            rejected: (stats.error_failures + stats.newton_failures) as u64,
            rescues: stats.rescues as u32,
            failure,
        }
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        // SAFETY: opened by `open`, closed once.
        unsafe { p1c_close(self.0) }
    }
}
