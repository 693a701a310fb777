//! The drive as the solver sees it.

use stallpoint_solve::sparse::Pattern;
use stallpoint_solve::{Cause, Evaluation, System};

use super::contact::Gap;
use super::jacobian::Jacobian;
use super::modes::GUARDS;
use super::parameters::Variant;
use super::relay::Relay;
use super::unknowns::{N, NAMES, SCALE, U1};

/// The drive: its variant, its discrete state and a log of its events.
#[derive(Debug, Clone)]
pub struct Drive {
    pub variant: Variant,
    pub(super) jacobian: Jacobian,
    pub(super) relay: Relay,
    /// Contacts A+, A-, B+ and the control switch; B- stays closed.
    pub(super) gaps: [Gap; 4],
    differential: [bool; N],
    /// Times of the mode changes that the problem lists: control, pull-in, drop-out, contacts and bounces.
    pub events: Vec<f64>,
    /// Arcs struck or gone out by a guard.
    pub arc_events: u32,
    /// Times of the drop-outs.
    pub drop_outs: Vec<f64>,
}

impl Drive {
    /// The drive at rest.
    pub fn new(variant: Variant) -> Self {
        let open = if variant.arcs { Gap::Open } else { Gap::Clamped };
        Self {
            variant,
            jacobian: Jacobian::new(&variant),
            relay: Relay::new(),
            gaps: [open, Gap::Closed, open, open],
            differential: std::array::from_fn(|i| i >= U1),
            events: Vec::with_capacity(64),
            arc_events: 0,
            drop_outs: Vec::with_capacity(16),
        }
    }
}

impl System for Drive {
    fn pattern(&self) -> &Pattern {
        &self.jacobian.pattern
    }

    fn differential(&self) -> &[bool] {
        &self.differential
    }

    fn scale(&self) -> &[f64] {
        &SCALE
    }

    fn evaluate(&mut self, t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation) {
        self.equations(t, x, jacobian, out);
    }

    fn guard_count(&self) -> usize {
        GUARDS
    }

    fn guards(&mut self, t: f64, x: &[f64], out: &mut [f64]) {
        self.write_guards(t, x, out);
    }

    fn next_stop(&self) -> Option<f64> {
        self.relay.next().map(|(t, _)| t)
    }

    fn fire(&mut self, cause: Cause, t: f64, x: &mut [f64]) {
        match cause {
            Cause::Schedule => self.due(t, x),
            Cause::Guard(guard) => self.guard_fired(guard, t, x),
        }
    }

    fn unknown_name(&self, index: usize) -> String {
        NAMES[index].to_owned()
    }

    fn equation_name(&self, index: usize) -> String {
        format!("the balance of {}", NAMES[index])
    }
}
