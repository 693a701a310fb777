//! What a pump says of itself to studies and reports.

use super::description::HydraulicPump;
use crate::parts::load::about::{AboutLoad, torque};
use crate::report::quantity;

/// A heavier load takes a pump to this share of its relief pressure at most: beyond, it does not move at all.
const BELOW_RELIEF: f64 = 0.99;

impl AboutLoad for HydraulicPump {
    fn in_words(&self) -> String {
        let bar = |pressure: f64| quantity(1e-5 * pressure, "bar");
        let [forward, backward, relief] =
            [self.forward_pressure, self.reverse_pressure, self.relief_pressure].map(|pressure| pressure.si());
        format!(
            "hydraulic pump, works at {} forward and {} backward; {} at its relief pressure of {}",
            bar(forward),
            bar(backward),
            torque(self.torque_at(relief)),
            bar(relief)
        )
    }

    fn working_torque(&self) -> [f64; 2] {
        [self.forward_pressure, self.reverse_pressure].map(|pressure| self.torque_at(pressure.si()))
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        let most = BELOW_RELIEF * self.relief_pressure.si();
        let fields = [("forward_pressure", self.forward_pressure), ("reverse_pressure", self.reverse_pressure)];
        fields.map(|(name, own)| (name, (factor * own.si()).min(most.max(own.si())))).into()
    }
}
