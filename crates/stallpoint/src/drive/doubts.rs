//! Data that can be, but hardly are: slips of the pen in a description.

use super::Drive;
use crate::parts::load::Load;
use crate::report::quantity;

/// A coil's rated voltage as a part of the battery's open-circuit voltage. Typical, no source.
const COIL: (f64, f64) = (0.75, 1.35);
/// A coil's current at its rated voltage, A. Typical, no source.
const COIL_CURRENT: (f64, f64) = (0.02, 30.0);
/// The largest current that the battery could drive through the locked motor's own resistance, A. Typical, no source.
const LOCKED: (f64, f64) = (1.0, 20e3);
/// Resistance of a joint, ohm, above which it is open rather than bad. Typical, no source.
const JOINT: f64 = 1.0;
/// Length of a cable, m. Typical, no source.
const CABLE: f64 = 100.0;
/// Rated current of a breaker as a part of the locked motor's current. Typical, no source.
const BREAKER: (f64, f64) = (0.02, 5.0);

impl Drive {
    /// What in the description looks like a slip: a unit mistaken, a coil of another voltage. Nothing is refused for it; the
    /// surge study's report says it. The limits are typical, without a source.
    ///
    /// # Example
    /// ```
    /// use stallpoint::drive::{BOAT_LIFT, Drive};
    /// let drive = Drive::from_toml_str(BOAT_LIFT)?;
    /// assert!(drive.doubts().is_empty());
    /// let slip = drive.with_values([("motor.resistance", "42 ohm")])?; // milliohms were meant
    /// assert!(slip.doubts()[0].contains("motor.resistance"));
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn doubts(&self) -> Vec<String> {
        let mut doubts = Vec::new();
        let mut doubt = |likely: bool, words: String| {
            if !likely {
                doubts.push(words);
            }
        };
        let within = |value: f64, (low, high): (f64, f64)| value >= low && value <= high;
        let battery = self.battery.open_circuit_voltage().abs();
        let coil = &self.contactor.coil;
        doubt(
            within(coil.rated_voltage.si() / battery, COIL),
            format!(
                "contactor.coil.rated_voltage is {}, the battery has {}: is the coil for this battery?",
                coil.rated_voltage,
                quantity(battery, "V")
            ),
        );
        let current = coil.rated_voltage.si() / coil.resistance.si();
        doubt(
            within(current, COIL_CURRENT),
            format!("contactor.coil.resistance is {}: the coil would take {}", coil.resistance, quantity(current, "A")),
        );
        let armature = self.motor.armature();
        let locked = battery / armature.resistance.si();
        doubt(
            within(locked, LOCKED),
            format!(
                "motor.resistance is {}: it alone would let {} pass; is the prefix right?",
                armature.resistance,
                quantity(locked, "A")
            ),
        );
        let device = self.protection();
        let rated = device.rated_current();
        doubt(
            within(rated.si() / locked, BREAKER),
            format!(
                "{}.rated_current is {rated}, the motor's resistance would let {} pass",
                device.name(),
                quantity(locked, "A")
            ),
        );
        for (name, joint) in &self.joints {
            let resistance = joint.resistance;
            doubt(
                resistance.si() <= JOINT,
                format!("{name}.resistance is {resistance}: an open joint rather than a bad one"),
            );
        }
        for (name, cable) in self.cables() {
            doubt(cable.length.si() <= CABLE, format!("{name}.length is {}: is the prefix right?", cable.length));
        }
        for (number, load) in self.load.iter().enumerate() {
            let Load::ResistingTorque(load) = load else { continue };
            let given = load.breakaway.si() > 0.0;
            doubt(
                !given || load.breakaway.si() >= load.running.si(),
                format!(
                    "load.{number}.breakaway is {}, less than running ({}), which is used: are they exchanged?",
                    load.breakaway, load.running
                ),
            );
        }
        doubts
    }
}
