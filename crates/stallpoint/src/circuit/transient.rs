//! The transient of a circuit.

use stallpoint_solve::{self as solve, Flow, Observer, Step};

use super::assembly::Assembly;
use super::circuit::Circuit;
use super::energy::Bookkeeper;
use super::run::{Ending, Run};
use super::state::State;
use super::trace::Trace;
use crate::error::Error;

/// Settings of a transient.
#[derive(Debug, Clone)]
pub struct TransientOptions {
    /// Relative tolerance of a step.
    pub rtol: f64,
    /// Absolute tolerances by unit ("V", "A", "rad/s", …) where the defaults do not serve. A default is `rtol` times the
    /// size below which the quantity does not matter: 1 V, 1 rad/s, and what each part says of its own.
    pub atol: Vec<(String, f64)>,
    /// Longest step, s.
    pub max_step: f64,
    /// Steps after which the run ends.
    pub max_steps: u64,
    /// Where to start: the parts' initial states when `None`.
    pub start: Option<State>,
    /// Ends the run after the first event of this part.
    pub stop_at_event_of: Option<String>,
    /// Whether to keep the energy account.
    pub energy: bool,
}

impl Default for TransientOptions {
    fn default() -> Self {
        Self {
            rtol: 1e-4,
            atol: Vec::new(),
            max_step: f64::INFINITY,
            max_steps: 2_000_000,
            start: None,
            stop_at_event_of: None,
            energy: true,
        }
    }
}

impl TransientOptions {
    /// The defaults with another relative tolerance.
    pub fn rtol(rtol: f64) -> Self {
        Self { rtol, ..Self::default() }
    }
}

/// How far a run has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Simulated time reached, s.
    pub time: f64,
    /// Simulated time wanted, s.
    pub until: f64,
    /// Accepted steps so far.
    pub steps: u64,
}

/// Called while a run is made; returning [`Flow::Stop`] cancels it and keeps what was computed.
pub type Watcher<'w> = &'w mut dyn FnMut(Progress) -> Flow;

impl Circuit {
    /// As [`transient`](Circuit::transient), calling `watcher` at every step.
    ///
    /// # Errors
    /// As for [`transient`](Circuit::transient).
    pub fn transient_watched(&self, until: f64, options: &TransientOptions, watcher: Watcher) -> Result<Run, Error> {
        run(self, until, options, watcher)
    }
}

pub(crate) fn transient(circuit: &Circuit, until: f64, options: &TransientOptions) -> Result<Run, Error> {
    run(circuit, until, options, &mut |_| Flow::Continue)
}

fn run(circuit: &Circuit, until: f64, options: &TransientOptions, watcher: Watcher) -> Result<Run, Error> {
    let mut assembly = circuit.assemble()?;
    for (unit, atol) in &options.atol {
        if *atol <= 0.0 || !atol.is_finite() {
            return Err(Error::option("atol", &format!("{atol} {unit}"), &format!("above 0 {unit}")));
        }
        assembly.set_scale(unit, atol / options.rtol)?;
    }
    let mut x = assembly.initial();
    let mut from = 0.0;
    if let Some(state) = &options.start {
        from = state.time;
        x = state.place(&mut assembly)?;
    }
    let stop_part = options.stop_at_event_of.as_deref().map(|name| assembly.layout.part(name)).transpose()?;
    let solver_options = solve::Options {
        rtol: options.rtol,
        max_step: options.max_step,
        max_steps: options.max_steps,
        ..solve::Options::default()
    };
    let mut recorder = Recorder {
        run: Run::new(Trace::new(assembly.layout.clone())),
        energy: None,
        keep_energy: options.energy,
        until,
        watcher,
        stop_part: stop_part.map(|part| assembly.layout.instances[part].name.clone()),
        ending: Ending::Finished,
    };
    let ended = solve::integrate(&mut assembly, (from, until), &mut x, &solver_options, &mut recorder);
    let mut run = recorder.run;
    run.energy = recorder.energy.map(Bookkeeper::close).unwrap_or_default();
    run.events = std::mem::take(&mut assembly.events);
    if let Some(which) = assembly.unannounced {
        return Err(Error::unannounced(&assembly.layout.instances[which].name));
    }
    match ended {
        Ok(ended) => {
            run.counters = ended.counters;
            run.ending = match ended.ending {
                solve::Ending::StepLimit => Ending::StepLimit,
                solve::Ending::Finished | solve::Ending::Stopped => recorder.ending,
            };
            Ok(run)
        }
        Err(source) => Err(Error::Solve { source, partial: (!run.is_empty()).then(|| Box::new(run)) }),
    }
}

/// Keeps rows, energy and the reasons to stop.
struct Recorder<'w> {
    run: Run,
    energy: Option<Bookkeeper>,
    keep_energy: bool,
    until: f64,
    watcher: Watcher<'w>,
    stop_part: Option<String>,
    ending: Ending,
}

impl Observer<Assembly> for Recorder<'_> {
    fn begin(&mut self, assembly: &Assembly, t: f64, x: &[f64]) {
        self.run.trace.memories.push(assembly.memories.clone());
        self.run.push(t, x, None);
        self.energy = self.keep_energy.then(|| Bookkeeper::begin(assembly, t, x));
    }

    fn step(&mut self, assembly: &Assembly, step: &Step) -> Flow {
        self.run.push(step.t1, step.x1, Some(step.bend));
        self.run.counters.steps += 1;
        if let Some(energy) = &mut self.energy {
            energy.step(assembly, step);
        }
        let progress = Progress { time: step.t1, until: self.until, steps: self.run.counters.steps };
        let flow = (self.watcher)(progress);
        if flow == Flow::Stop {
            self.ending = Ending::Cancelled;
        }
        flow
    }

    fn jump(&mut self, assembly: &Assembly, t: f64, x: &[f64]) -> Flow {
        self.run.trace.memories.push(assembly.memories.clone());
        self.run.push(t, x, None);
        if let Some(energy) = &mut self.energy {
            energy.jump(assembly, t, x);
        }
        let wanted = self.stop_part.as_ref();
        let happened =
            |part: &String| assembly.events.iter().rev().take_while(|e| e.time == t).any(|e| e.part == *part);
        if wanted.is_some_and(happened) {
            self.ending = Ending::StoppedAtEvent;
            return Flow::Stop;
        }
        Flow::Continue
    }
}
