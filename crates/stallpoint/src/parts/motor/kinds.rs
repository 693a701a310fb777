//! A motor of any kind.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::Armature;
use super::{CompoundMotor, PermanentMagnetMotor, SeriesMotor, ShuntMotor};
use crate::circuit::Part;
use crate::quantity::{Resistance, Temperature};
use crate::report::{number, quantity};

/// A motor of any kind, told apart by `kind` in files.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Motor {
    /// Permanent-magnet motor.
    PermanentMagnet(PermanentMagnetMotor),
    /// Series motor.
    Series(SeriesMotor),
    /// Shunt motor.
    Shunt(ShuntMotor),
    /// Compound motor.
    Compound(CompoundMotor),
}

/// Where a drive puts a wound field, with the part's terminals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FieldPlace {
    /// In the lead to the contactor's supply stud.
    SupplyLead { plus: &'static str, minus: &'static str },
    /// Across the contactor's supply and ground studs.
    AcrossSupply { plus: &'static str, minus: &'static str },
}

impl Motor {
    /// The motor as a part.
    pub fn part(&self) -> &dyn Part {
        match self {
            Self::PermanentMagnet(motor) => motor,
            Self::Series(motor) => motor,
            Self::Shunt(motor) => motor,
            Self::Compound(motor) => motor,
        }
    }

    /// Its armature.
    pub fn armature(&self) -> Armature {
        match self {
            Self::PermanentMagnet(motor) => motor.armature(),
            Self::Series(motor) => motor.armature,
            Self::Shunt(motor) => motor.armature,
            Self::Compound(motor) => motor.armature,
        }
    }

    /// The same motor with another winding temperature at the start, °C.
    pub fn with_winding_temperature(&self, temperature_c: f64) -> Self {
        let mut own = self.clone();
        let place = match &mut own {
            Self::PermanentMagnet(motor) => &mut motor.winding_temperature_c,
            Self::Series(motor) => &mut motor.armature.winding_temperature_c,
            Self::Shunt(motor) => &mut motor.armature.winding_temperature_c,
            Self::Compound(motor) => &mut motor.armature.winding_temperature_c,
        };
        *place = Temperature::from_si(temperature_c);
        own
    }

    /// Takes the highest winding temperature away, which only judges.
    pub(crate) fn without_limit(&mut self) {
        match self {
            Self::PermanentMagnet(motor) => motor.max_winding_temperature_c = None,
            Self::Series(motor) => motor.armature.max_winding_temperature_c = None,
            Self::Shunt(motor) => motor.armature.max_winding_temperature_c = None,
            Self::Compound(motor) => motor.armature.max_winding_temperature_c = None,
        }
    }

    /// The same motor with its winding held at a temperature, °C, whatever heats it.
    pub(crate) fn held_at(&self, temperature_c: f64) -> Self {
        let mut own = self.with_winding_temperature(temperature_c);
        let (capacity, case) = match &mut own {
            Self::PermanentMagnet(motor) => (&mut motor.heat_capacity, &mut motor.case),
            Self::Series(motor) => (&mut motor.armature.heat_capacity, &mut motor.armature.case),
            Self::Shunt(motor) => (&mut motor.armature.heat_capacity, &mut motor.armature.case),
            Self::Compound(motor) => (&mut motor.armature.heat_capacity, &mut motor.armature.case),
        };
        (*capacity, *case) = (None, None);
        own
    }

    /// One line of a report, in words.
    pub(crate) fn in_words(&self) -> String {
        let armature = self.armature();
        let ohms = |value: Resistance| quantity(value.si(), "ohm");
        let winding = format!("{} at 20 °C and {}", ohms(armature.resistance), quantity(armature.inductance.si(), "H"));
        let field = match self {
            Self::PermanentMagnet(motor) => {
                let constant = number(motor.torque_constant.si());
                let brushes = quantity(armature.brush_drop.si(), "V");
                return format!("permanent magnets, {winding}, {constant} N·m/A, brushes drop {brushes}");
            }
            Self::Series(motor) => format!("series field of {}", ohms(motor.field.resistance)),
            Self::Shunt(motor) => format!("shunt field of {}", ohms(motor.field.resistance)),
            Self::Compound(motor) => format!(
                "shunt field of {}, series field of {}",
                ohms(motor.shunt.resistance),
                ohms(motor.series.resistance)
            ),
        };
        format!("{field}, armature {winding}, brushes drop {}", quantity(armature.brush_drop.si(), "V"))
    }

    /// The table of a drive's file in which the winding's data stand.
    pub(crate) fn winding_table(&self) -> &'static str {
        match self {
            Self::PermanentMagnet(_) => "motor",
            Self::Series(_) | Self::Shunt(_) | Self::Compound(_) => "motor.armature",
        }
    }

    /// Names of the armature's terminals, plus and minus.
    pub(crate) fn armature_terminals(&self) -> [&'static str; 2] {
        match self {
            Self::PermanentMagnet(_) => ["plus", "minus"],
            Self::Series(_) | Self::Shunt(_) | Self::Compound(_) => ["armature_plus", "armature_minus"],
        }
    }

    /// Its wound fields.
    pub(crate) fn fields(&self) -> &'static [FieldPlace] {
        const SERIES: FieldPlace = FieldPlace::SupplyLead { plus: "field_plus", minus: "field_minus" };
        const SHUNT: FieldPlace = FieldPlace::AcrossSupply { plus: "field_plus", minus: "field_minus" };
        const COMPOUND: [FieldPlace; 2] = [
            FieldPlace::SupplyLead { plus: "series_plus", minus: "series_minus" },
            FieldPlace::AcrossSupply { plus: "shunt_plus", minus: "shunt_minus" },
        ];
        match self {
            Self::PermanentMagnet(_) => &[],
            Self::Series(_) => &[SERIES],
            Self::Shunt(_) => &[SHUNT],
            Self::Compound(_) => &COMPOUND,
        }
    }
}
