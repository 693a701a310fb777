//! Whether a part keeps the contract of [`Part`](super::Part).

mod energy;
mod jacobian;
mod modes;
mod names;
mod sampling;

use super::memory::Memory;
use super::part::Part;
use sampling::{Frame, Sampler};

/// How a part is tried.
#[derive(Debug, Clone, PartialEq)]
pub struct ConformanceOptions {
    /// Random states tried in each mode.
    pub samples: u32,
    /// Largest voltage tried at a terminal against the first, V.
    pub volts: f64,
    /// Largest shaft speed tried, rad/s.
    pub speed: f64,
    /// Largest own unknown tried, in multiples of its nominal size from its initial value.
    pub own: f64,
    /// Start of the random numbers: the same number tries the same states.
    pub seed: u64,
}

impl Default for ConformanceOptions {
    fn default() -> Self {
        Self { samples: 60, volts: 20.0, speed: 300.0, own: 50.0, seed: 1 }
    }
}

/// What a trial of a part found beside the findings that would have been errors.
#[derive(Debug, Clone, PartialEq)]
pub struct Conformance {
    /// Modes that were reached.
    pub modes: Vec<u32>,
    /// States tried over all modes.
    pub states: usize,
    /// Whether it brings energy in from outside anywhere.
    pub is_source: bool,
    /// Whether its content is linear in the unknowns with constant coefficients, as the fifth-order method needs.
    pub linear_content: bool,
    /// Whether its energy was balanced: not possible for a part whose terminal rows have a content.
    pub balanced: bool,
}

/// A part that does not keep the contract.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("the {kind} does not keep the contract of a part: {}", findings.join("; "))]
pub struct NotConforming {
    /// Its kind.
    pub kind: String,
    /// Everything that was found.
    pub findings: Vec<String>,
}

/// Tries a part alone, in every mode that its own triggers reach and at random states, against the contract of [`Part`]:
///
/// - `check` passes; names of kind, terminals, unknowns, probes and guards are there and differ; sizes and initial values are
///   usable; its paths lie between its terminals;
/// - `df` and `dq` are the derivatives of `f` and `q` (against central differences at two widths);
/// - no mode has a derivative where the first one announced none;
/// - a guard that fired is not still above zero after its change; a time that came moves on; nothing is NaN;
/// - energy: what its terminals take in is what it dissipates, stores and delivers; it dissipates nothing negative.
///
/// Limits: it tries, it does not prove; `docs` cannot be seen at run time. Currents at terminals are balanced only at states
/// that fulfil the part's own algebraic equations, which Newton steps look for; states where they find none, or where a guard
/// is about to leave the mode, are left out. Temperatures (unknowns in degC) are tried from their initial value up.
///
/// # Errors
/// [`NotConforming`] lists what was found, at most a few lines for each rule.
///
/// # Example
/// ```
/// use stallpoint::circuit::{ConformanceOptions, check_part};
/// use stallpoint::parts::PermanentMagnetMotor;
///
/// let motor = PermanentMagnetMotor::new("25 mohm", "120 uH", "0.045 N m/A", "0.004 kg m2")?;
/// let found = check_part(&motor, &ConformanceOptions::default())?;
/// assert!(!found.is_source && found.linear_content && found.balanced);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_part(part: &dyn Part, options: &ConformanceOptions) -> Result<Conformance, NotConforming> {
    let mut findings = Findings::default();
    let not = |findings: Findings| NotConforming { kind: part.kind().into(), findings: findings.0 };
    if let Err(error) = part.check() {
        findings.add("check", || error.to_string());
        return Err(not(findings));
    }
    // A circuit computes with the copy that `boxed` makes.
    let part = &*part.boxed();
    names::check(part, &mut findings);
    let frame = Frame::new(part);
    let mut sampler = Sampler::new(part, options);
    let modes = modes::explore(part, &frame, &mut sampler, options.samples, &mut findings);
    let mut found = Conformance {
        modes: modes.iter().map(|memory| memory.mode).collect(),
        states: 0,
        is_source: false,
        linear_content: true,
        balanced: energy::can_balance(part, &frame),
    };
    let announced = jacobian::announced(part, &frame);
    for memory in &modes {
        for _ in 0..options.samples {
            let x = sampler.state();
            found.states += 1;
            jacobian::check(part, &frame, &announced, memory, &x, &mut found.linear_content, &mut findings);
            energy::check(part, &frame, memory, &x, &mut found, &mut findings);
        }
    }
    if findings.0.is_empty() { Ok(found) } else { Err(not(findings)) }
}

/// Findings, a few of each rule.
#[derive(Debug, Default)]
pub(super) struct Findings(Vec<String>);

/// Most lines for one rule.
const LINES: usize = 3;

impl Findings {
    /// Adds a line under a rule.
    pub(super) fn add(&mut self, rule: &str, what: impl FnOnce() -> String) {
        if self.0.iter().filter(|line| line.starts_with(rule)).count() < LINES {
            self.0.push(format!("{rule}: {}", what()));
        }
    }
}

/// Words for a mode.
pub(super) fn in_mode(memory: &Memory) -> String {
    format!("in mode {}", memory.mode)
}
