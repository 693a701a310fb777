//! What a part is: the one trait that our parts and users' own parts share.

use std::fmt::Debug;

use super::local::{At, Stamp};
use super::memory::{Change, Memory, Trigger};
use crate::error::PartError;

/// What a terminal joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Domain {
    /// Across: volt to the reference; through: ampere.
    Electrical,
    /// Across: rad/s; through: N·m.
    Shaft,
}

/// A named terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terminal {
    /// Its name, unique in the part.
    pub name: &'static str,
    /// What it joins.
    pub domain: Domain,
}

/// An electrical terminal.
pub const fn electrical(name: &'static str) -> Terminal {
    Terminal { name, domain: Domain::Electrical }
}

/// A terminal on a shaft.
pub const fn shaft(name: &'static str) -> Terminal {
    Terminal { name, domain: Domain::Shaft }
}

/// How an unknown of a part behaves when an operating point is sought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// Brought to equilibrium.
    Fast,
    /// Held at its initial value: charge, temperature.
    Slow,
    /// Held too; it only counts what happened: a trip integral.
    Accumulator,
}

/// An unknown that a part adds to the circuit, with the equation of the same index.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unknown {
    /// Its name; [`Run::state`](crate::circuit::Trace::state) finds it by this.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The size below which it does not matter: errors are measured against it.
    pub nominal: f64,
    /// Its value when a transient starts.
    pub initial: f64,
    /// How it behaves when an operating point is sought.
    pub pace: Pace,
}

impl Unknown {
    /// A fast unknown that starts at zero.
    pub const fn fast(name: &'static str, unit: &'static str, nominal: f64) -> Self {
        Self { name, unit, nominal, initial: 0.0, pace: Pace::Fast }
    }

    /// A slow unknown that starts at `initial`.
    pub const fn slow(name: &'static str, unit: &'static str, nominal: f64, initial: f64) -> Self {
        Self { name, unit, nominal, initial, pace: Pace::Slow }
    }

    /// An accumulator that starts at `initial`.
    pub const fn accumulator(name: &'static str, nominal: f64, initial: f64) -> Self {
        Self { name, unit: "1", nominal, initial, pace: Pace::Accumulator }
    }
}

/// How two terminals of a part are tied, for the checks of the topology.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tie {
    /// A direct current can pass, however small.
    Conducts,
    /// The voltage is given: ideal voltage sources.
    FixesVoltage,
    /// The current is given: ideal current sources.
    FixesCurrent,
    /// The current cannot jump: inductors without damping.
    Inductive,
    /// The voltage cannot jump and no direct current passes: capacitors.
    Capacitive,
}

/// Two terminals by index and how they are tied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Path {
    /// One terminal.
    pub from: usize,
    /// The other.
    pub to: usize,
    /// How they are tied.
    pub tie: Tie,
}

/// A path between terminals `from` and `to`.
pub const fn path(from: usize, to: usize, tie: Tie) -> Path {
    Path { from, to, tie }
}

/// Power of a part at an instant, W.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Power {
    /// What it brings into the circuit from outside: a battery's chemistry, gravity. Negative when it takes back.
    pub delivered: f64,
    /// What it turns into heat or lost work.
    pub dissipated: f64,
}

/// Dry friction that a part puts on its shaft, N·m.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct DryFriction {
    /// While the shaft turns.
    pub running: f64,
    /// To start it moving.
    pub breakaway: f64,
}

/// A value that a part shows beside its unknowns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Probe {
    /// Its name.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
}

/// A part of a circuit.
///
/// A part describes itself by equations over its *local* values: first its terminals (across values), then its own
/// unknowns. Row `i` of a terminal is the flow into the part there; row `i` of an own unknown is the part's own equation
/// `d/dt q + f = 0`. [`evaluate`](Part::evaluate) adds `q` and `f` and their derivatives to the rows; it must touch the same
/// derivative entries in every mode, with zeros where nothing depends. Put charge and flux into own equations, not into
/// terminal rows, so that terminal currents are known at every instant; and make the charge or flux itself the unknown
/// where it is not proportional to a voltage or current: while content is linear in the unknowns the circuit keeps its
/// fifth-order method.
///
/// Discrete states live in a [`Memory`] that the circuit keeps; it changes only in [`change`](Part::change), when a guard
/// becomes positive or a time that the part asked for comes.
///
/// # Example
/// ```
/// use stallpoint::circuit::{At, Circuit, Part, Power, Stamp, Terminal, electrical};
///
/// /// A resistor whose current grows with the cube of the voltage: i = k v³.
/// #[derive(Debug, Clone)]
/// struct Varistor {
///     k: f64, // A/V³
/// }
///
/// impl Part for Varistor {
///     fn kind(&self) -> &'static str {
///         "varistor"
///     }
///     fn terminals(&self) -> &[Terminal] {
///         const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
///         &TERMINALS
///     }
///     fn evaluate(&self, at: &At, out: &mut Stamp) {
///         let v = at.x(0) - at.x(1);
///         out.f(0, self.k * v.powi(3));
///         out.f(1, -self.k * v.powi(3));
///         let slope = 3.0 * self.k * v * v;
///         out.df(0, 0, slope);
///         out.df(0, 1, -slope);
///         out.df(1, 0, -slope);
///         out.df(1, 1, slope);
///     }
///     fn power(&self, at: &At) -> Power {
///         let v = at.x(0) - at.x(1);
///         Power { delivered: 0.0, dissipated: self.k * v.powi(4) }
///     }
///     fn boxed(&self) -> Box<dyn Part> {
///         Box::new(self.clone())
///     }
/// }
///
/// let mut circuit = Circuit::new();
/// circuit.add("source", stallpoint::parts::VoltageSource::constant("2 V")?, [("plus", "p"), ("minus", "ground")])?;
/// circuit.add("varistor", Varistor { k: 0.5 }, [("a", "p"), ("b", "ground")])?;
/// let op = circuit.operating_point()?;
/// assert!((op.current("varistor")? - 4.0).abs() < 1e-9);
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub trait Part: Debug + Send + Sync {
    /// What it is, in the trade's word: "resistor".
    fn kind(&self) -> &'static str;

    /// Its terminals. A current is positive into the first.
    fn terminals(&self) -> &[Terminal];

    /// Refuses parameters outside their range, naming the argument.
    ///
    /// # Errors
    /// [`PartError`] names the argument, its value and what is allowed.
    fn check(&self) -> Result<(), PartError> {
        Ok(())
    }

    /// Unknowns it adds, each with its own equation.
    fn unknowns(&self) -> Vec<Unknown> {
        Vec::new()
    }

    /// Adds its equations at `at` to `out`.
    fn evaluate(&self, at: &At, out: &mut Stamp);

    /// How its terminals are tied. The default: all electrical terminals conduct to the first.
    fn paths(&self) -> Vec<Path> {
        let electrical: Vec<usize> =
            (0..self.terminals().len()).filter(|&i| self.terminals()[i].domain == Domain::Electrical).collect();
        electrical.windows(2).map(|pair| path(pair[0], pair[1], Tie::Conducts)).collect()
    }

    /// Its discrete state at rest.
    fn memory(&self) -> Memory {
        Memory::default()
    }

    /// Names of its guards, in the words of what happens: "pulls in".
    fn guards(&self) -> &[&'static str] {
        &[]
    }

    /// Writes its guards; one that is above zero fires. One that does not concern the present mode is -1.
    fn guard_values(&self, _at: &At, _out: &mut [f64]) {}

    /// The next time at which it wants [`change`](Part::change) to be called.
    fn next_time(&self, _memory: &Memory) -> Option<f64> {
        None
    }

    /// Changes its discrete state. A trigger that the present mode does not know is ignored.
    fn change(&self, _trigger: Trigger, _at: &At, _change: &mut Change) {}

    /// Power brought in and lost.
    fn power(&self, _at: &At) -> Power {
        Power::default()
    }

    /// Energy stored, J, from its state alone.
    fn stored(&self, _at: &At) -> f64 {
        0.0
    }

    /// Values it shows beside its unknowns.
    fn probes(&self) -> &[Probe] {
        &[]
    }

    /// Value of the probe of this index.
    fn probe(&self, _index: usize, _at: &At) -> f64 {
        f64::NAN
    }

    /// Inertia it adds to its shaft, kg·m².
    fn inertia(&self) -> f64 {
        0.0
    }

    /// Dry friction it adds to its shaft.
    fn dry_friction(&self) -> DryFriction {
        DryFriction::default()
    }

    /// Dry friction against forward and against backward motion, where they differ: a gear's losses go with its load.
    fn dry_friction_each_way(&self) -> [DryFriction; 2] {
        [self.dry_friction(); 2]
    }

    /// A copy in a box.
    fn boxed(&self) -> Box<dyn Part>;
}

impl Clone for Box<dyn Part> {
    fn clone(&self) -> Self {
        self.boxed()
    }
}
