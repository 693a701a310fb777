//! Series motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::Armature;
use super::field::{Field, inside};
use super::poles::{Poles, Winding};
use super::rotor::Rotor;
use super::wound::{Wound, WoundMachine};
use crate::circuit::{Terminal, electrical, shaft};
use crate::error::PartError;

/// A series motor: a field of few thick turns that carries the armature's current.
///
/// ```text
/// armature:  v_a = d/dt (L_a i_a) + R_a i_a + V_b tanh(i_a / I_b) + K(i_m) ω
/// field:     v_f = R_f i_f + dλ/dt,   i_m = i_f once the eddies have died away
/// torque on the shaft = K(i_m) i_a - B ω
/// ```
///
/// Armature and field are two circuits with terminals of their own (`armature_plus`, `armature_minus`, `field_plus`,
/// `field_minus`), because a reversing contactor turns only the armature round: in a [`Drive`](crate::drive::Drive) the field
/// lies in the supply lead. [`Armature`] and [`Field`] hold the details, [`Magnetisation`](super::Magnetisation) the
/// saturation.
///
/// It turns forward when both currents are positive. Wired so, swapping motor wires or signal wires reverses it, swapping
/// supply and ground does not. With field and armature in series as two leads it reverses on no swap of its wires at all.
///
/// States: `current` (of the armature), `winding_temperature`, those of the armature's options, `field_current`,
/// `magnetising_current`, `field_flux`; probes: `speed`, `torque`, `back_emf`, `angle` (where it counts).
///
/// Typical values: field resistance half of the armature's to equal to it, as in the textbook motor of
/// `tests/reference/dc_motor_examples.toml` (0.05 Ω each at 220 V, 100 A).
///
/// Limits: unloaded it runs away, as the real one does; no armature reaction, no remanence.
///
/// Source: G. K. Dubey, Fundamentals of Electrical Drives, ch. 5.
///
/// # Example
/// ```
/// use stallpoint::circuit::Circuit;
/// use stallpoint::parts::motor::{Armature, Field, Magnetisation, Rotor, SeriesMotor};
/// use stallpoint::parts::{VoltageSource, load::QuadraticTorque};
///
/// let field = Field::new("0.05 ohm", "2 mH", Magnetisation::linear("20 mH")?)?;
/// let motor = SeriesMotor::new(Armature::new("0.05 ohm", "1 mH")?, field, Rotor::new("2 kg m2")?);
/// let mut circuit = Circuit::new();
/// circuit.add("source", VoltageSource::constant("220 V")?, [("plus", "p"), ("minus", "ground")])?;
/// let wires = [
///     ("field_plus", "p"), ("field_minus", "between"), ("armature_plus", "between"), ("armature_minus", "ground"),
/// ];
/// circuit.add("motor", motor, wires)?;
/// circuit.attach("motor", QuadraticTorque::new(0.01)?)?;
/// let op = circuit.operating_point()?;
/// assert!(op.state("motor", "speed")? > 50.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeriesMotor {
    /// The armature.
    pub armature: Armature,
    /// The series field.
    pub field: Field,
    /// What turns.
    pub rotor: Rotor,
}

impl SeriesMotor {
    /// A series motor from its three pieces.
    pub fn new(armature: Armature, field: Field, rotor: Rotor) -> Self {
        Self { armature, field, rotor }
    }
}

impl Wound for SeriesMotor {
    const KIND: &'static str = "series motor";
    const TERMINALS: &'static [Terminal] = &[
        electrical("armature_plus"),
        electrical("armature_minus"),
        electrical("field_plus"),
        electrical("field_minus"),
        shaft("shaft"),
    ];
    const CURRENTS: &'static [&'static str] = &["field_current"];

    fn refuse(&self) -> Result<(), PartError> {
        inside("armature", self.armature.check())?;
        inside("field", self.field.check())?;
        inside("rotor", self.rotor.check())
    }

    fn machine(&self) -> Result<WoundMachine, PartError> {
        one_winding::<Self>(&self.armature, &self.field, &self.rotor)
    }
}

/// A machine with one winding, on terminals 2 and 3.
pub(super) fn one_winding<W: Wound>(
    armature: &Armature,
    field: &Field,
    rotor: &Rotor,
) -> Result<WoundMachine, PartError> {
    let winding = Winding { plus: 2, minus: 3, resistance: field.total_resistance(), turns: field.turns.si() };
    Ok(WoundMachine {
        kind: W::KIND,
        terminals: W::TERMINALS,
        currents: W::CURRENTS,
        armature: *armature,
        rotor: *rotor,
        poles: Poles::new(field, vec![winding])?,
    })
}
