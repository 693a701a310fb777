//! Miniature breakers from their standard's gates.

use super::breaker::Breaker;
use super::magnetic::MagneticTrip;
use super::trip_band::TripBand;
use super::trip_points::{INSIDE, TripPoints};
use crate::circuit::Part;
use crate::error::{Error, PartError};
use crate::quantity::{Current, IntoQuantity};
use crate::tables::trip_gates::{Gate, MiniatureType, iec_60898};

/// Time that tells the gates of the magnetic element from the thermal ones, s (IEC 60898-1 Table 7, tests d and e).
const INSTANTANEOUS: f64 = 0.1;

impl Breaker {
    /// A miniature breaker of type B, C or D that uses its standard's gates to the full: its fastest edge lies on the gates
    /// that must hold, its slowest on those that must trip, both 0.1 % inside; beyond the thermal gates `t ∝ 1/M²`, and not
    /// faster than the magnetic element's gate allows.
    ///
    /// Limits: as for [`iec_60898`]; a maker's own band is narrower. On direct current the magnetic element of a device for
    /// alternating current needs up to 1.4 times as much (from memory: use your data sheet).
    ///
    /// # Errors
    /// A wrong unit; a rated current that is not above zero or above 125 A, where the standard ends.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::Breaker;
    /// use stallpoint::tables::trip_gates::{MiniatureType, iec_60898};
    ///
    /// let breaker = Breaker::miniature(MiniatureType::C, "16 A")?;
    /// assert!(breaker.meets(&iec_60898(MiniatureType::C, 16.0)).iter().all(|check| check.holds));
    /// assert_eq!(breaker.trip_time(1.0, 160.0), Some(8e-3)); // its magnetic element
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn miniature(kind: MiniatureType, rated_current: impl IntoQuantity<Current>) -> Result<Self, Error> {
        let rated: Current = crate::parts::quantity("rated_current", rated_current)?;
        let gates = iec_60898(kind, rated.si());
        let (magnetic, thermal): (Vec<Gate>, Vec<Gate>) = gates
            .into_iter()
            .partition(|gate| gate.holds_for == Some(INSTANTANEOUS) || gate.trips_within == Some(INSTANTANEOUS));
        let levels = |which: fn(&Gate) -> bool| magnetic.iter().find(|gate| which(gate)).map(|gate| gate.multiple);
        let (Some(fastest), Some(slowest)) = (levels(|g| g.holds_for.is_some()), levels(|g| g.trips_within.is_some()))
        else {
            let allowed = "above 0 A and at most 125 A, where IEC 60898-1 ends";
            return Err(PartError::range("rated_current", rated, allowed).into());
        };
        let mut points = TripPoints::on_gates(&thermal);
        if let Some(&[multiple, time]) = points.fastest.last() {
            let held = INSTANTANEOUS * (1.0 + INSIDE);
            let fastest = fastest * (1.0 + INSIDE);
            if time * (multiple / fastest).powi(2) < held {
                points.fastest.push([fastest, held]);
            }
        }
        let breaker = Self {
            magnetic: Some(MagneticTrip::new(fastest * (1.0 + INSIDE), slowest * (1.0 - INSIDE))),
            ..Self::new(rated.si(), TripBand::Points(points))?
        };
        breaker.check()?;
        Ok(breaker)
    }
}
