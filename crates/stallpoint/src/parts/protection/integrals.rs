//! The accumulated-trip integrals that breakers and fuses share.

use super::trip_band::TripBand;
use super::trip_curve::TripCurve;
use crate::circuit::{At, Stamp, Terminal, Unknown, electrical};

/// Local values of every protective device.
pub(super) const LINE: usize = 0;
pub(super) const LOAD: usize = 1;
pub(super) const I: usize = 2;
/// The integrals: fastest edge, slowest edge, own.
pub(super) const FASTEST: usize = 3;
pub(super) const OWN: usize = 5;
pub(super) const TERMINALS: [Terminal; 2] = [electrical("line"), electrical("load")];

/// Relative drop-back of a pick-up, far above what Newton's method leaves open in a current.
pub(super) const DROP_BACK: f64 = 1e-5;
/// Numbers of memory: whether the current is above the pick-up of each edge.
pub(super) const EDGES: usize = 2;

/// Current and integrals, the first unknowns of every protective device.
pub(super) fn unknowns() -> Vec<Unknown> {
    vec![
        Unknown::fast("current", "A", 1.0),
        Unknown::accumulator("trip_fraction_fastest", 0.1, 0.0),
        Unknown::accumulator("trip_fraction_slowest", 0.1, 0.0),
        Unknown::accumulator("trip_fraction", 0.1, 0.0),
    ]
}

/// Three integrals made ready for many evaluations.
#[derive(Debug, Clone)]
pub(super) struct Integrals {
    curves: [TripCurve; 3],
    /// Edge whose pick-up each obeys.
    edges: [usize; 3],
    pick_ups: [Option<f64>; EDGES],
    /// One over the rated current, 1/A.
    per_ampere: f64,
    /// One over the cooling time constant, 1/s.
    pub(super) cooling: f64,
}

impl Integrals {
    pub(super) fn new(band: &TripBand, position: f64, rated: f64, cooling_time_constant: f64) -> Self {
        let curves = [0.0, 1.0, position].map(|position| band.curve(position));
        let pick_ups = [curves[0].pick_up(), curves[1].pick_up()];
        let edges = [0, 1, usize::from(position > 0.0)];
        Self { curves, edges, pick_ups, per_ampere: 1.0 / rated, cooling: 1.0 / cooling_time_constant }
    }

    /// Adds the three equations. `above` are the two numbers of memory; `open` says that the device has opened.
    pub(super) fn evaluate(&self, at: &At, out: &mut Stamp, above: &[f64], open: bool) {
        let i = at.x(I);
        let multiple = i.abs() * self.per_ampere;
        let by_current = i.signum() * self.per_ampere;
        let ln_multiple = if above.contains(&1.0) { multiple.ln() } else { 0.0 };
        for (k, curve) in self.curves.iter().enumerate() {
            let integral = FASTEST + k;
            let a = at.x(integral);
            let (rate, by_i, by_itself) = match *curve {
                TripCurve::Thermal { over_k_squared, over_time_constant } => {
                    let over = if open { self.cooling } else { over_time_constant };
                    let heating = over * over_k_squared * multiple;
                    (heating * multiple - over * a, 2.0 * heating * by_current, -over)
                }
                _ if above[self.edges[k]] > 0.0 => {
                    let (rate, slope) = curve.rate(multiple, ln_multiple);
                    (rate, slope * by_current, 0.0)
                }
                _ => (-self.cooling * a, 0.0, -self.cooling),
            };
            out.q(integral, a);
            out.dq(integral, integral, 1.0);
            out.f(integral, -rate);
            out.df(integral, I, -by_i);
            out.df(integral, integral, -by_itself);
        }
    }

    /// The two guards on pick-up.
    pub(super) fn guard_values(&self, at: &At, above: &[f64], out: &mut [f64]) {
        let multiple = at.x(I).abs() * self.per_ampere;
        for (edge, pick_up) in self.pick_ups.into_iter().enumerate() {
            out[edge] = match pick_up {
                None => -1.0,
                Some(pick_up) if above[edge] > 0.0 => pick_up * (1.0 - DROP_BACK) - multiple,
                Some(pick_up) => multiple - pick_up,
            };
        }
    }

    /// The guard of an edge fired: where the current really is decides, so that a guard that was located a little early
    /// does not go back and forth.
    pub(super) fn pass(&self, edge: usize, at: &At, above: &mut [f64]) {
        let Some(pick_up) = self.pick_ups[edge] else { return };
        let multiple = at.x(I).abs() * self.per_ampere;
        above[edge] = f64::from(u8::from(multiple > pick_up * (1.0 - 0.5 * DROP_BACK)));
    }
}
