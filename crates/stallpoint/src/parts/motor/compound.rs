//! Compound motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::{Armature, twenty};
use super::field::{Field, hot, inside};
use super::poles::{Poles, Winding};
use super::rotor::Rotor;
use super::wound::{Wound, WoundMachine};
use crate::circuit::{Terminal, electrical, shaft};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity, Resistance, Temperature};

/// A compound motor: a shunt and a series field on the same poles.
///
/// ```text
/// armature:      v_a  = d/dt (L_a i_a) + R_a i_a + V_b tanh(i_a / I_b) + K(i_m) ω
/// shunt field:   v_sh = R_sh i_sh + dλ/dt
/// series field:  v_se = R_se i_se + n dλ/dt
/// i_m = i_sh + n i_se once the eddies have died away
/// torque on the shaft = K(i_m) i_a - B ω
/// ```
///
/// `n` is the series field's turns over the shunt field's: above zero they help each other (cumulative), below zero the
/// series field weakens the shunt field (differential). The two windings are coupled as a transformer is; the magnetisation
/// counts shunt amperes.
///
/// Terminals: `armature_plus`, `armature_minus`, `series_plus`, `series_minus`, `shunt_plus`, `shunt_minus`, `shaft`. In a
/// [`Drive`](crate::drive::Drive) the series field lies in the supply lead and the shunt field across the contactor's supply
/// and ground studs.
///
/// Wired so, swapping motor wires or signal wires reverses it, swapping supply and ground does not.
///
/// States: `current` (of the armature), `winding_temperature`, those of the armature's options, `series_current`,
/// `shunt_current`, `magnetising_current`, `field_flux`; probes: `speed`, `torque`, `back_emf`, `angle` (where it counts).
///
/// Typical values: `n` of some thousandths to hundredths, a few series turns on many hundred shunt turns (typical, no source).
///
/// Limits: perfect coupling but for the eddies; no armature reaction, no remanence.
///
/// Source: A. E. Fitzgerald et al., Electric Machinery.
///
/// # Example
/// ```
/// use stallpoint::parts::motor::{Armature, CompoundMotor, Field, Magnetisation, Rotor, SeriesWinding};
///
/// let shunt = Field::new("75 ohm", "20 H", Magnetisation::linear("0.6 H")?)?;
/// let series = SeriesWinding::new("0.02 ohm", 0.005)?;
/// let motor = CompoundMotor::new(Armature::new("0.05 ohm", "1 mH")?, shunt, series, Rotor::new("1 kg m2")?);
/// assert_eq!(motor.series.turns_ratio.si(), 0.005);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CompoundMotor {
    /// The armature.
    pub armature: Armature,
    /// The shunt field; it carries the magnetisation.
    pub shunt: Field,
    /// The series field.
    pub series: SeriesWinding,
    /// What turns.
    pub rotor: Rotor,
}

/// The series field of a compound motor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeriesWinding {
    /// Resistance at 20 °C, ohm.
    pub resistance: Resistance,
    /// Its turns over the shunt field's; below zero it works against the shunt field.
    pub turns_ratio: Fraction,
    /// Temperature, °C.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
}

impl SeriesWinding {
    /// A winding at 20 °C.
    ///
    /// # Errors
    /// A wrong unit; a resistance that is not above zero; a ratio of zero.
    pub fn new(
        resistance: impl IntoQuantity<Resistance>,
        turns_ratio: impl IntoQuantity<Fraction>,
    ) -> Result<Self, Error> {
        let winding = Self {
            resistance: crate::parts::quantity("resistance", resistance)?,
            turns_ratio: crate::parts::quantity("turns_ratio", turns_ratio)?,
            temperature_c: twenty(),
        };
        winding.check()?;
        Ok(winding)
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range};
        above_zero("resistance", self.resistance)?;
        let ratio = self.turns_ratio;
        in_range(
            "turns_ratio",
            ratio,
            ratio.si() != 0.0,
            "other than 0 (a motor without series field is a shunt motor)",
        )?;
        let t = self.temperature_c;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")
    }
}

impl CompoundMotor {
    /// A compound motor from its four pieces.
    pub fn new(armature: Armature, shunt: Field, series: SeriesWinding, rotor: Rotor) -> Self {
        Self { armature, shunt, series, rotor }
    }
}

impl Wound for CompoundMotor {
    const KIND: &'static str = "compound motor";
    const TERMINALS: &'static [Terminal] = &[
        electrical("armature_plus"),
        electrical("armature_minus"),
        electrical("series_plus"),
        electrical("series_minus"),
        electrical("shunt_plus"),
        electrical("shunt_minus"),
        shaft("shaft"),
    ];
    const CURRENTS: &'static [&'static str] = &["series_current", "shunt_current"];

    fn refuse(&self) -> Result<(), PartError> {
        inside("armature", self.armature.check())?;
        inside("shunt", self.shunt.check())?;
        inside("series", self.series.check())?;
        inside("rotor", self.rotor.check())
    }

    fn machine(&self) -> Result<WoundMachine, PartError> {
        let series = Winding {
            plus: 2,
            minus: 3,
            resistance: hot(self.series.resistance, self.series.temperature_c),
            turns: self.series.turns_ratio.si(),
        };
        let shunt =
            Winding { plus: 4, minus: 5, resistance: self.shunt.total_resistance(), turns: self.shunt.turns.si() };
        Ok(WoundMachine {
            kind: Self::KIND,
            terminals: Self::TERMINALS,
            currents: Self::CURRENTS,
            armature: self.armature,
            rotor: self.rotor,
            poles: Poles::new(&self.shunt, vec![series, shunt])?,
        })
    }
}
