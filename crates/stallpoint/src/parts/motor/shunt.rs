//! Shunt motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::Armature;
use super::field::{Field, inside};
use super::rotor::Rotor;
use super::series::one_winding;
use super::wound::{Wound, WoundMachine};
use crate::circuit::{Terminal, electrical, shaft};
use crate::error::PartError;

/// A shunt motor, or one with a separately fed field: a field of many thin turns across the supply.
///
/// ```text
/// armature:  v_a = d/dt (L_a i_a) + R_a i_a + V_b tanh(i_a / I_b) + K(i_m) ω
/// field:     v_f = R_f i_f + dλ/dt,   i_m = i_f once the eddies have died away
/// torque on the shaft = K(i_m) i_a - B ω
/// ```
///
/// Terminals: `armature_plus`, `armature_minus`, `field_plus`, `field_minus`, `shaft`. In a [`Drive`](crate::drive::Drive) the
/// field lies across the contactor's supply and ground studs and is fed as long as the breaker is closed, so that the
/// contactor turns only the armature round. [`Armature`] and [`Field`] hold the details,
/// [`Magnetisation`](super::Magnetisation) the saturation.
///
/// It turns forward when both currents are positive. Wired so, swapping motor wires or signal wires reverses it, swapping
/// supply and ground does not.
///
/// States: `current` (of the armature), `winding_temperature`, those of the armature's options, `field_current`,
/// `magnetising_current`, `field_flux`; probes: `speed`, `torque`, `back_emf`, `angle` (where it counts).
///
/// Typical values: a 230 V textbook motor has 0.05 Ω in the armature and 75 Ω in the field
/// (`tests/reference/dc_motor_examples.toml`).
///
/// Limits: no armature reaction, no remanence.
///
/// Source: G. K. Dubey, Fundamentals of Electrical Drives, ch. 5.
///
/// # Example
/// ```
/// use stallpoint::circuit::{Circuit, OperatingOptions, StartFrom};
/// use stallpoint::parts::VoltageSource;
/// use stallpoint::parts::motor::{Armature, Field, Magnetisation, Rotor, ShuntMotor};
///
/// let field = Field::new("75 ohm", "20 H", Magnetisation::linear("0.6 H")?)?;
/// let rotor = Rotor { friction: "5 N m".parse()?, ..Rotor::new("1 kg m2")? };
/// let motor = ShuntMotor::new(Armature::new("0.05 ohm", "1 mH")?, field, rotor);
/// let mut circuit = Circuit::new();
/// circuit.add("source", VoltageSource::constant("230 V")?, [("plus", "p"), ("minus", "ground")])?;
/// let wires = [("armature_plus", "p"), ("armature_minus", "ground"), ("field_plus", "p"), ("field_minus", "ground")];
/// circuit.add("motor", motor, wires)?;
/// let op = circuit.operating_point()?;
/// let k = 0.6 * 230.0 / 75.0;
/// let speed = (230.0 - 0.05 * 5.0 / k) / k;
/// assert!((op.state("motor", "speed")? / speed - 1.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShuntMotor {
    /// The armature.
    pub armature: Armature,
    /// The shunt field.
    pub field: Field,
    /// What turns.
    pub rotor: Rotor,
}

impl ShuntMotor {
    /// A shunt motor from its three pieces.
    pub fn new(armature: Armature, field: Field, rotor: Rotor) -> Self {
        Self { armature, field, rotor }
    }
}

impl Wound for ShuntMotor {
    const KIND: &'static str = "shunt motor";
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
