//! The solvers that are compared, and the sets of options drawn for each.

use std::time::Instant;

use crate::diffsol_run::{self, Backend, Method};
use crate::ida;
use crate::outcome::Outcome;
use crate::p1::unknowns::N;
use crate::p1::{Drive, options, run_from};

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Who {
    Ours,
    IdaDense,
    IdaKlu,
    Diffsol(Method, Backend),
}

impl Who {
    pub const ALL: [Self; 8] = [
        Self::Ours,
        Self::IdaDense,
        Self::IdaKlu,
        Self::Diffsol(Method::Bdf, Backend::FaerSparse),
        Self::Diffsol(Method::Bdf, Backend::Nalgebra),
        Self::Diffsol(Method::Esdirk34, Backend::FaerSparse),
        Self::Diffsol(Method::TrBdf2, Backend::FaerSparse),
        Self::Diffsol(Method::TrBdf2, Backend::Nalgebra),
    ];

    pub fn name(self) -> String {
        match self {
            Self::Ours => "this library".to_owned(),
            Self::IdaDense => "IDA, dense".to_owned(),
            Self::IdaKlu => "IDA, KLU".to_owned(),
            Self::Diffsol(method, backend) => {
                let method = match method {
                    Method::Bdf => "BDF",
                    Method::Esdirk34 => "ESDIRK34",
                    Method::TrBdf2 => "TR-BDF2",
                };
                let backend = match backend {
                    Backend::FaerSparse => "faer sparse",
                    Backend::Nalgebra => "nalgebra dense",
                };
                format!("diffsol {method}, {backend}")
            }
        }
    }

    /// A set of options; of our own solver the tolerance alone is drawn.
    pub fn draw(self, dice: &mut Dice) -> Set {
        match self {
            Self::Ours => Set::Ours { rtol: 10f64.powf(-dice.between(2.0, 8.0)) },
            Self::IdaDense | Self::IdaKlu => Set::Ida(ida::Options {
                rtol: 10f64.powf(-dice.between(2.5, 9.0)),
                atol: dice.of(&[0.01, 0.1, 1.0, 10.0]),
                sparse: (self == Self::IdaKlu).into(),
                keep_analysis: 1,
                max_order: dice.of(&[2, 3, 4, 5]),
                suppress_algebraic: dice.of(&[0, 1, 1]),
                max_step: dice.of(&[0.0, 0.0, 5e-3, 2e-2]),
                first_step: dice.of(&[0.0, 1e-9, 1e-8, 1e-7, 1e-6]),
                restart_step: dice.of(&[1e-12, 1e-11, 1e-10, 1e-9]),
                nonlinear: dice.of(&[0.1, 0.33, 1.0]),
                newton_most: dice.of(&[4, 8]),
                rescues: 20,
                scale_solution: dice.of(&[0, 1]),
            }),
            Self::Diffsol(method, backend) => Set::Diffsol(diffsol_run::Options {
                method,
                backend,
                rtol: 10f64.powf(-dice.between(2.5, 9.0)),
                atol: dice.of(&[0.01, 0.1, 1.0, 10.0]),
                algebraic: dice.of(&[1.0, 10.0, 1e2, 1e3, 1e6]),
                restart_step: dice.of(&[1e-12, 1e-11, 1e-10, 1e-9]),
                first_step: dice.of(&[1e-9, 1e-8, 1e-7, 1e-6]),
                nonlinear: dice.of(&[0.02, 0.1, 0.2, 0.5]),
                newton_most: dice.of(&[6, 10]),
            }),
        }
    }
}

/// A solver with its options.
#[derive(Debug, Clone, Copy)]
pub enum Set {
    Ours { rtol: f64 },
    Ida(ida::Options),
    Diffsol(diffsol_run::Options),
}

impl Set {
    pub fn run(&self, start: &(Drive, [f64; N])) -> Outcome {
        match self {
            Self::Ours { rtol } => {
                let clock = Instant::now();
                let ran = run_from(start, &options(*rtol), false);
                let seconds = clock.elapsed().as_secs_f64();
                match ran {
                    Err(error) => Outcome::failed(error.to_string()),
                    Ok(run) => Outcome {
                        seconds,
                        rows: run.samples.rows,
                        events: run.events,
                        arcs: run.arc_events,
                        steps: run.counters.steps,
                        rejected: run.counters.rejected_by_error + run.counters.rejected_by_newton,
                        rescues: 0,
                        failure: None,
                    },
                }
            }
            Self::Ida(options) => match ida::Session::open(options) {
                // The second run of a session finds its memory touched.
                Some(mut session) => {
                    let first = session.run();
                    if first.failure.is_some() { first } else { session.run() }
                }
                None => Outcome::failed("no solution at rest".to_owned()),
            },
            Self::Diffsol(options) => diffsol_run::run(start, options),
        }
    }
}

/// Reproducible random numbers (xorshift, from memory).
pub struct Dice(u64);

impl Dice {
    pub fn new() -> Self {
        Self(0x9E37_79B9_7F4A_7C15)
    }

    fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[(self.unit() * choices.len() as f64) as usize]
    }
}
