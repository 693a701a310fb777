//! Series resistance from a cold-cranking rating.

use super::battery::{Battery, REFERENCE_C};
use crate::error::PartError;

impl Battery {
    /// Series resistance of one block at 25 °C, ohm: as given, or from the cold-cranking rating where it is not.
    pub(super) fn block_resistance(&self) -> f64 {
        if self.series_resistance.si() > 0.0 { self.series_resistance.si() } else { self.cranking_resistance() }
    }

    /// Whether the series resistance comes from the cold-cranking rating.
    pub fn by_cold_cranking(&self) -> bool {
        self.series_resistance.si() == 0.0 && self.cold_cranking_amperes.is_some()
    }

    /// Series resistance of one block at 25 °C by its cold-cranking rating, ohm; NaN without one.
    ///
    /// ```text
    /// V_oc(soc_e) - I (R (1 + α (T - 25 °C)) r(soc_e) + Σ R_p (1 - exp(-t / (R_p C_p)))) = U
    /// ```
    /// with U after t at T as the `cranking_test` says and soc_e the charge then left of a full block.
    ///
    /// An upper bound of the resistance: the rating is a promise, the test is in the cold, and the branches' share is in it
    /// when they are not described. Right for how far the voltage sags, wrong for the fault current, which is larger:
    /// 2.3 times the rating at the least.
    ///
    /// Source: SAE J537 and the other standards of [`CrankingTest`](crate::tables::CrankingTest).
    pub fn cranking_resistance(&self) -> f64 {
        let Some(rating) = self.cold_cranking_amperes else { return f64::NAN };
        let (i, limit) = (rating.si(), self.cranking_test.limit());
        let block = Self { blocks_in_series: 1, strings_in_parallel: 1, ..self.clone() };
        let curves = block.curves();
        let loss = curves.peukert.map_or(1.0, |(rated, power)| (i / rated).powf(power));
        let left = 1.0 - i * loss * limit.time_s / self.capacity.si();
        let cold = limit.temperature_c - REFERENCE_C;
        let open = curves.voltage.value(left) + self.open_circuit_coefficient * cold;
        let polarised = |(r, c): (f64, f64)| r * (1.0 - (-limit.time_s / (r * c)).exp());
        let branches: f64 = self.branches().into_iter().flatten().map(polarised).sum();
        let share = (1.0 + self.resistance_coefficient * cold) * curves.factor(left).0;
        ((open - limit.least_voltage_v) / i - branches) / share
    }

    pub(super) fn check_cranking(&self) -> Result<(), PartError> {
        if let Some(rating) = self.cold_cranking_amperes {
            crate::parts::above_zero("cold_cranking_amperes", rating)?;
        }
        if !self.by_cold_cranking() {
            return crate::parts::above_zero("series_resistance", self.series_resistance);
        }
        let r = self.cranking_resistance();
        if r > 0.0 && r.is_finite() {
            return Ok(());
        }
        Err(PartError::Description {
            problem: format!("by `cold_cranking_amperes` the series resistance would be {r} ohm"),
            advice:
                "the branches' resistance alone is more than the rating allows: lessen it, check the rating and the \
                     capacity, or give `series_resistance`"
                    .into(),
        })
    }
}
