//! What limits a coil's voltage when it is switched off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Diode;
use crate::error::PartError;
use crate::quantity::{Resistance, Voltage};

/// What lies across a coil and takes its current when it is switched off. The lower the voltage it allows, the slower the
/// armature lets go.
///
/// ```text
/// j = I_D(u - V_clamp - R j)   with u = v_minus - v_plus and the diode's law I_D
/// ```
///
/// In a file: `{ kind = "diode_and_resistor", resistance = "47 ohm" }`.
///
/// Limits: the diode's law has one temperature; a clamp is an ideal voltage behind the diode.
///
/// # Example
/// ```
/// use stallpoint::parts::Suppression;
///
/// let both = Suppression::DiodeAndResistor { resistance: "47 ohm".parse()? };
/// assert_ne!(both, Suppression::None);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Suppression {
    /// Nothing: the contact that opens bears the whole voltage.
    #[default]
    None,
    /// A diode that conducts when `minus` is above `plus`.
    Diode,
    /// A diode with a resistor in series.
    DiodeAndResistor {
        /// Resistance, ohm, above zero.
        resistance: Resistance,
    },
    /// A resistor alone: it carries current while the coil is on, too.
    Resistor {
        /// Resistance, ohm, above zero.
        resistance: Resistance,
    },
    /// A diode with a constant voltage in series (a Zener diode, a varistor taken as ideal).
    Clamp {
        /// Clamp voltage without the diode's own, V, above zero.
        voltage: Voltage,
    },
}

/// `by_v · u + by_j · j = given`, linearised: residual and derivatives of the suppressor's own equation.
pub(crate) struct Row {
    pub(crate) residual: f64,
    pub(crate) by_voltage: f64,
    pub(crate) by_current: f64,
}

/// Resistance of a suppressor that failed to a short, ohm (typical, no source).
const SHORTED: f64 = 0.01;

impl Row {
    /// A suppressor that failed to a short.
    pub(crate) fn shorted(u: f64, j: f64) -> Self {
        Self { residual: SHORTED * j - u, by_voltage: -1.0, by_current: SHORTED }
    }
}

impl Suppression {
    pub(crate) fn check(&self) -> Result<(), PartError> {
        match self {
            Self::None | Self::Diode => Ok(()),
            Self::DiodeAndResistor { resistance } | Self::Resistor { resistance } => {
                super::above_zero("suppression.resistance", *resistance)
            }
            Self::Clamp { voltage } => super::above_zero("suppression.voltage", *voltage),
        }
    }

    /// The equation between the voltage `u` from `minus` to `plus` and the current `j` in that direction. It is there in
    /// every kind, so that the structure of the equations does not depend on the kind.
    pub(crate) fn row(&self, diode: &Diode, u: f64, j: f64) -> Row {
        let (series, clamp) = match self {
            Self::None => return Row { residual: j, by_voltage: 0.0, by_current: 1.0 },
            Self::Resistor { resistance } => {
                let conductance = 1.0 / resistance.si();
                return Row { residual: j - conductance * u, by_voltage: -conductance, by_current: 1.0 };
            }
            Self::Diode => (0.0, 0.0),
            Self::DiodeAndResistor { resistance } => (resistance.si(), 0.0),
            Self::Clamp { voltage } => (0.0, voltage.si()),
        };
        let (current, slope) = diode.current_and_slope(u - clamp - series * j);
        Row { residual: j - current, by_voltage: -slope, by_current: 1.0 + slope * series }
    }

    /// Whether a current in either direction finds a way beside the coil.
    pub(crate) fn damps(&self) -> bool {
        matches!(self, Self::Resistor { .. })
    }
}
