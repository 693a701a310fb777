//! The operating point of a circuit.

use std::ops::Deref;

use stallpoint_solve::{Cause, System, equilibrium};

use super::assembly::Assembly;
use super::circuit::{Circuit, names};
use super::memory::{Memory, Trigger};
use super::part::Pace;
use super::state::State;
use super::trace::Trace;
use crate::error::Error;
use crate::parts::Shaft;

/// Which equilibrium is sought, when there are two.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum StartFrom {
    /// The shaft stands; it moves only if the torque exceeds the breakaway torque.
    #[default]
    Standstill,
    /// The shaft turns; it stops only if the running friction is more than the torque.
    Running,
}

/// Settings of an operating point.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct OperatingOptions {
    /// Which equilibrium is sought.
    pub start: StartFrom,
    /// Brings slow states (polarisation, temperatures, charge) to equilibrium too.
    pub settled: bool,
}

/// An equilibrium: one row of values.
#[derive(Debug, Clone)]
pub struct OperatingPoint {
    trace: Trace,
    /// Whether any shaft is held by its dry friction.
    pub stuck: bool,
}

/// Mode changes on the way to an equilibrium beyond which there is none.
const MAX_CHANGES: usize = 60;
/// Tolerance of the equilibrium's Newton steps, relative.
const RTOL: f64 = 1e-10;

pub(crate) fn operating_point(circuit: &Circuit, options: &OperatingOptions) -> Result<OperatingPoint, Error> {
    let fresh = Candidate::new(circuit.assemble()?);
    let mut found = match options.start {
        StartFrom::Standstill => fresh.settled(false)?,
        StartFrom::Running => running(&fresh)?,
    };
    // Slow states last: a winding that never stalled must not be as hot as if it had.
    if options.settled {
        found = found.settled(true)?;
    }
    Ok(OperatingPoint::of(found.assembly, found.x))
}

/// The equilibrium with turning shafts; that at standstill when they turn in neither direction.
fn running(fresh: &Candidate) -> Result<Candidate, Error> {
    // Contacts move first, at standstill: opening on the current of a turning motor they would draw arcs that stay. Where
    // the standing drive has no equilibrium, because its contactor chatters, the turning one may have.
    let standing = fresh.settled(false);
    let from = standing.as_ref().unwrap_or(fresh);
    let forward = from.turning(Shaft::FORWARD).settled(false)?;
    if stuck(&forward.assembly) { from.turning(Shaft::BACKWARD).settled(false) } else { Ok(forward) }
}

/// A circuit on its way to an equilibrium.
#[derive(Clone)]
struct Candidate {
    assembly: Assembly,
    x: Vec<f64>,
}

impl Candidate {
    fn new(assembly: Assembly) -> Self {
        let x = assembly.initial();
        Self { assembly, x }
    }

    /// With every shaft turning.
    fn turning(&self, direction: u32) -> Self {
        let mut turning = self.clone();
        for (instance, memory) in self.assembly.layout.instances.iter().zip(&mut turning.assembly.memories) {
            if instance.part.kind() == Shaft::KIND {
                memory.mode = direction;
            }
        }
        turning
    }

    /// Solves in the present mode and lets guards fire until none is true.
    fn settled(&self, slow_too: bool) -> Result<Self, Error> {
        let Self { mut assembly, mut x } = self.clone();
        let held = assembly.paced(|pace| pace == Pace::Accumulator || pace == Pace::Slow && !slow_too);
        let solver = stallpoint_solve::Options { rtol: RTOL, ..Default::default() };
        let mut guards = vec![0.0; assembly.guard_count()];
        let mut fired: Vec<String> = Vec::new();
        for _ in 0..MAX_CHANGES {
            equilibrium(&mut assembly, 0.0, &mut x, &held, &solver)
                .map_err(|source| Error::Solve { source, partial: None })?;
            if let Some(which) = assembly.unannounced {
                return Err(Error::unannounced(&assembly.layout.instances[which].name));
            }
            assembly.guards(0.0, &x, &mut guards);
            let Some(guard) = guards.iter().position(|&guard| guard > 0.0) else {
                return Ok(Self { assembly, x });
            };
            let (which, _) = assembly.guard_owner(guard);
            fired.push(assembly.layout.instances[which].name.clone());
            assembly.fire(Cause::Guard(guard), 0.0, &mut x);
            elapse(&mut assembly, which, &mut x);
        }
        let half = &fired[MAX_CHANGES / 2..];
        let mut parts: Vec<&str> = half.iter().map(String::as_str).collect();
        parts.sort_unstable();
        parts.dedup();
        Err(Error::NoEquilibrium { parts: names(parts.into_iter()) })
    }
}

/// The equilibrium with the discrete states of some parts as given and all others at rest, whatever the guards say.
pub(crate) fn equilibrium_in_modes(circuit: &Circuit, modes: &[(&str, Memory)]) -> Result<OperatingPoint, Error> {
    let mut assembly = circuit.assemble()?;
    for (name, memory) in modes {
        let which = assembly.layout.part(name)?;
        assembly.memories[which] = memory.clone();
    }
    let mut x = assembly.initial();
    let held = assembly.paced(|pace| pace != Pace::Fast);
    let solver = stallpoint_solve::Options { rtol: RTOL, ..Default::default() };
    equilibrium(&mut assembly, 0.0, &mut x, &held, &solver)?;
    Ok(OperatingPoint::of(assembly, x))
}

/// Lets the delays that a change started pass at once: only the rest counts here.
fn elapse(assembly: &mut Assembly, which: usize, x: &mut [f64]) {
    for _ in 0..MAX_CHANGES {
        let due = assembly.layout.instances[which].part.next_time(&assembly.memories[which]);
        let Some(due) = due.filter(|due| due.is_finite()) else { return };
        assembly.trigger(which, Trigger::Time, due, x);
    }
}

/// Whether any shaft is held by its dry friction.
fn stuck(assembly: &Assembly) -> bool {
    let mut parts = assembly.layout.instances.iter().zip(&assembly.memories);
    parts.any(|(instance, memory)| instance.part.kind() == Shaft::KIND && memory.mode == Shaft::STUCK)
}

impl OperatingPoint {
    fn of(assembly: Assembly, x: Vec<f64>) -> Self {
        let stuck = stuck(&assembly);
        let mut trace = Trace::new(assembly.layout.clone());
        trace.memories.push(assembly.memories);
        trace.push(0.0, &x);
        Self { trace, stuck }
    }

    /// Voltage of a node to the reference, V.
    ///
    /// # Errors
    /// No such node.
    pub fn voltage(&self, node: &str) -> Result<f64, Error> {
        Ok(self.trace.voltage(node)?[0])
    }

    /// Current into the first terminal of a part, A.
    ///
    /// # Errors
    /// No such part.
    pub fn current(&self, part: &str) -> Result<f64, Error> {
        Ok(self.trace.current(part)?[0])
    }

    /// A part's own unknown or probe.
    ///
    /// # Errors
    /// No such part or state.
    pub fn state(&self, part: &str, name: &str) -> Result<f64, Error> {
        Ok(self.trace.state(part, name)?[0])
    }

    /// The state, to start a transient from.
    pub fn as_start(&self) -> State {
        State::of(&self.trace, 0)
    }
}

impl Deref for OperatingPoint {
    type Target = Trace;

    fn deref(&self) -> &Trace {
        &self.trace
    }
}
