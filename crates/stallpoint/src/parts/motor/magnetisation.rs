//! How a wound field's flux follows its current.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::monotone::MonotoneCurve;
use crate::error::PartError;
use crate::quantity::{AngularSpeed, Current, Inductance, Voltage};

/// The magnetisation of a wound field: back-EMF per speed `K(i)` by field current, which is torque per armature ampere too.
///
/// In a file: `{ kind = "linear", mutual_inductance = "2 mH" }`, or a curve measured by driving the armature at one speed,
/// open-circuited, and raising the field current:
/// `{ kind = "measured", speed = "600 rpm", field_current = [2.5, 5, 10], back_emf = [25, 50, 90] }`.
///
/// A measured curve goes through the origin and is mirrored for currents the other way; between its points it is smooth and
/// never falls (cubic pieces); beyond the last point it goes on straight.
///
/// Limits: no remanence and no hysteresis, so a generator does not build itself up from nothing.
///
/// Source of the interpolation: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
///
/// # Example
/// ```
/// use stallpoint::parts::motor::Magnetisation;
///
/// let curve = Magnetisation::measured("600 rpm", [(2.5, 25.0), (5.0, 50.0), (7.5, 73.5), (10.0, 90.0)])?;
/// let at_ten_amperes = curve.constant_at(10.0)?;
/// assert!((at_ten_amperes - 90.0 / 62.83185307).abs() < 1e-8);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Magnetisation {
    /// `K = M i`: no saturation.
    Linear {
        /// Back-EMF constant per field ampere `M`, V·s/(rad·A) = H, above zero.
        mutual_inductance: Inductance,
    },
    /// A measured curve.
    Measured {
        /// The speed at which it was measured, rad/s.
        speed: AngularSpeed,
        /// Field currents, A, rising.
        field_current: Vec<Current>,
        /// Open-circuit back-EMF at each, V, not falling.
        back_emf: Vec<Voltage>,
    },
}

impl Magnetisation {
    /// A straight one.
    ///
    /// # Errors
    /// A wrong unit; a value that is not above zero.
    pub fn linear(mutual_inductance: impl crate::quantity::IntoQuantity<Inductance>) -> Result<Self, crate::Error> {
        let own = Self::Linear { mutual_inductance: crate::parts::quantity("mutual_inductance", mutual_inductance)? };
        own.curve()?;
        Ok(own)
    }

    /// A curve measured at a speed: pairs of field current, A, and back-EMF, V.
    ///
    /// # Errors
    /// A wrong unit; currents that do not rise; a back-EMF that falls.
    pub fn measured(
        speed: impl crate::quantity::IntoQuantity<AngularSpeed>,
        points: impl IntoIterator<Item = (f64, f64)>,
    ) -> Result<Self, crate::Error> {
        let (field_current, back_emf) =
            points.into_iter().map(|(i, e)| (Current::from_si(i), Voltage::from_si(e))).unzip();
        let own = Self::Measured { speed: crate::parts::quantity("speed", speed)?, field_current, back_emf };
        own.curve()?;
        Ok(own)
    }

    /// `K` at a field current, V·s/rad.
    ///
    /// # Errors
    /// As for [`measured`](Self::measured).
    pub fn constant_at(&self, field_current: f64) -> Result<f64, crate::Error> {
        Ok(self.curve()?.at(field_current).0)
    }

    /// The curve `K(i)`.
    pub(super) fn curve(&self) -> Result<MonotoneCurve, PartError> {
        match self {
            Self::Linear { mutual_inductance } => {
                crate::parts::above_zero("magnetisation.mutual_inductance", *mutual_inductance)?;
                // Above zero and finite, which is all that the curve asks.
                Self::through(&[(1.0, mutual_inductance.si())])
            }
            Self::Measured { speed, field_current, back_emf } => {
                crate::parts::above_zero("magnetisation.speed", *speed)?;
                if field_current.len() != back_emf.len() {
                    return Err(PartError::Description {
                        problem: format!(
                            "`magnetisation` has {} field currents and {} back-EMFs",
                            field_current.len(),
                            back_emf.len()
                        ),
                        advice: "give one back-EMF for each field current".into(),
                    });
                }
                let pairs = field_current.iter().zip(back_emf);
                Self::through(&pairs.map(|(i, e)| (i.si(), e.si() / speed.si())).collect::<Vec<_>>())
            }
        }
    }

    fn through(points: &[(f64, f64)]) -> Result<MonotoneCurve, PartError> {
        MonotoneCurve::new(points).ok_or_else(|| PartError::Description {
            problem: "`magnetisation` is not a curve that rises from the origin".into(),
            advice:
                "give field currents above zero in rising order, each with a back-EMF no smaller than the one before; \
                     take a remanent back-EMF at no current off all values"
                    .into(),
        })
    }
}
