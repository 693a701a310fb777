//! What may weld the contactor's contacts.

use super::Found;
use crate::circuit::Signal;
use crate::drive::{Drive, largest};
use crate::error::Error;
use crate::studies::surge::DirectionRuns;

/// What melts contacts: the voltage across them while they carry, the arcs and the current while they bounce.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldFacts {
    /// Largest closed resistance times current of any contact in any run, V.
    pub closed_voltage: Found,
    /// Largest energy of the arcs of one making's bounces, J; none in quick fidelity.
    pub arc_energy: Option<Found>,
    /// Largest `∫ i² dt` of one making's bounces, A²·s; none in quick fidelity.
    pub bounce_i2t: Option<Found>,
}

/// Current of each contact, in the order of the contactor's contacts, and what it is.
const CONTACTS: [(&str, &str); 4] = [
    ("supply_a_current", "contact supply to motor A"),
    ("ground_a_current", "contact ground to motor A"),
    ("supply_b_current", "contact supply to motor B"),
    ("ground_b_current", "contact ground to motor B"),
];

impl WeldFacts {
    pub(super) fn of(drive: &Drive, directions: &[DirectionRuns; 2]) -> Result<Self, Error> {
        let (mut volts, mut energy, mut i2t) = (None, None, None);
        for runs in directions {
            for (what, run) in runs.named() {
                let place = |words: &str| format!("{words}, {what} {}", runs.direction);
                let found = |name: &str, words: &str| {
                    let signal = Signal::State("contactor".into(), name.into());
                    let (value, time) = largest(&run.extremes(&signal)?);
                    Ok::<_, Error>(Found::new(value.abs(), time, &place(words)))
                };
                for (contact, (name, words)) in CONTACTS.iter().enumerate() {
                    let current = found(name, words)?;
                    let ohms = drive.contactor.closed_resistance(contact).si();
                    volts = Found::larger(volts, Found { value: ohms * current.value, ..current });
                }
                if drive.contactor.detailed.is_some() {
                    for set in ["a", "b"] {
                        let words = format!("set {}", set.to_uppercase());
                        energy = Found::larger(energy, found(&format!("making_{set}_arc_energy"), &words)?);
                        i2t = Found::larger(i2t, found(&format!("making_{set}_bounce_i2t"), &words)?);
                    }
                }
            }
        }
        let none = Found { value: f64::NAN, time: f64::NAN, when: String::new() }; // there are five runs of four contacts
        Ok(Self { closed_voltage: volts.unwrap_or(none), arc_energy: energy, bounce_i2t: i2t })
    }
}
