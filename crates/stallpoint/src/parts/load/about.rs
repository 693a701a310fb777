//! What studies and reports ask of a load beside its equations.

use crate::circuit::{At, LocalEquations, Part};
use crate::report::quantity;

/// What a load says of itself; each kind answers in its own file.
pub(crate) trait AboutLoad: Part {
    /// One line of a report, in words: "opposes motion with 3 N·m, 3.6 N·m to break away".
    fn in_words(&self) -> String;

    /// Torque beyond dry friction that it takes forward and backward once its slack is taken up: a pump has no pressure until
    /// it has turned a little.
    fn working_torque(&self) -> [f64; 2] {
        [0.0; 2]
    }

    /// Whether it may move by itself when the drive lets go of it.
    fn may_run_away(&self) -> bool {
        false
    }

    /// Its fields with the values that make it heavier by a factor; none for what does not vary.
    fn heavier(&self, _factor: f64) -> Vec<(&'static str, f64)> {
        Vec::new()
    }
}

/// A torque in words.
pub(super) fn torque(newton_metres: f64) -> String {
    quantity(newton_metres, "N·m")
}

/// Torque that a load takes to start, each way, in words.
pub(super) fn takes_to_start(load: &dyn Part) -> String {
    let mut stamp = LocalEquations::new(1);
    load.evaluate(&At::alone(0.0, &[0.0], &load.memory(), &[0]), &mut stamp.stamp());
    let [forward, backward] = load.dry_friction_each_way().map(|friction| friction.breakaway.max(friction.running));
    format!("takes {} to start forward and {} backward", torque(forward + stamp.f[0]), torque(backward - stamp.f[0]))
}
