//! From measured discharges to a battery's parameters.

use super::{Battery, BatteryFaults};
use crate::error::{Error, PartError};
use crate::linear::solve;
use crate::quantity::{Charge, Current, Fraction, Resistance, Voltage};
use crate::tables::PiecewiseLinear;

/// One point of a measured discharge at constant current, of the whole battery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DischargePoint {
    /// Current out of it, A.
    pub current: Current,
    /// Charge taken out since the start, C.
    pub taken: Charge,
    /// Voltage across it, V.
    pub voltage: Voltage,
}

/// A battery fitted to measured discharges, and how well.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedBattery {
    /// The battery.
    pub battery: Battery,
    /// Every point beside the battery's own voltage there, V.
    pub misfits: Vec<DischargeMisfit>,
}

/// A measured point beside the voltage of the fitted battery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DischargeMisfit {
    /// As measured.
    pub point: DischargePoint,
    /// As the battery has it, V.
    pub fitted: Voltage,
}

impl DischargeMisfit {
    /// The battery's voltage less the measured one, V.
    pub fn difference(&self) -> f64 {
        self.fitted.si() - self.point.voltage.si()
    }
}

impl FittedBattery {
    /// The point that the battery misses most.
    pub fn worst(&self) -> Option<&DischargeMisfit> {
        self.misfits.iter().max_by(|a, b| a.difference().abs().total_cmp(&b.difference().abs()))
    }

    /// Root of the mean squared difference, V.
    pub fn rms(&self) -> f64 {
        let squares = self.misfits.iter().map(|misfit| misfit.difference().powi(2)).sum::<f64>();
        (squares / self.misfits.len() as f64).sqrt()
    }
}

/// Least ratio between the largest and the least current of a fit: nearer ones hardly tell resistance from voltage.
const SPREAD: f64 = 1.5;

impl Battery {
    /// This battery with the open-circuit voltage and series resistance that fit measured discharges best: least squares over
    /// all points.
    ///
    /// ```text
    /// V = V_oc(soc) + open_circuit_coefficient (T - 25 °C) - I (R r(soc) (1 + α (T - 25 °C)) + R_p + R_s)
    /// soc = state_of_charge - taken (I / I_r)^(k - 1) / capacity        k = 1 without Peukert's law
    /// ```
    ///
    /// `V_oc` gets `pieces` straight pieces from the least to the largest state of charge of the points. Everything else stays
    /// as it is in `self`: capacity, `r`, coefficients, Peukert's law, and the branches, which are taken as settled.
    ///
    /// Arguments: points at two currents or more, the larger at least 1.5 times the smaller, long after switching on (the
    /// branches have settled); `pieces` of the curve, 1 or more, each with points in it.
    ///
    /// # Errors
    /// A current, charge or voltage that is not above zero (the charge may be zero); a point beyond the battery's charge;
    /// currents too near each other; a piece without points; a resistance that comes out at zero or less, because the
    /// branches' own is larger than what the points show or because temperature differed between the discharges; a battery
    /// with faults.
    ///
    /// Limits: the resistance of hours. Under a motor's surge a battery loses less: give it branches first, and the series
    /// resistance is what the points show beyond them.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::{Battery, DischargePoint};
    ///
    /// let battery = Battery::agm("20 Ah", "10 mohm")?;
    /// let mut points = Vec::new();
    /// for amperes in [1.0, 4.0] {
    ///     for hours in [1.0, 2.0, 3.0, 4.0] {
    ///         let taken = 3600.0 * amperes * hours;
    ///         // A made-up battery: 12.8 V full, 1 V less when empty, 50 mohm.
    ///         let voltage = 12.8 - taken / 72000.0 - 0.05 * amperes;
    ///         points.push(DischargePoint {
    ///             current: format!("{amperes} A").parse()?,
    ///             taken: format!("{taken} C").parse()?,
    ///             voltage: format!("{voltage} V").parse()?,
    ///         });
    ///     }
    /// }
    /// let fitted = battery.fit_discharges(&points, 1)?;
    /// assert!((fitted.battery.series_resistance.si() - 0.05).abs() < 1e-9);
    /// assert!(fitted.rms() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn fit_discharges(&self, points: &[DischargePoint], pieces: usize) -> Result<FittedBattery, Error> {
        self.check_points_of_fit(points, pieces)?;
        let charges: Vec<f64> = points.iter().map(|point| self.charge_after(point)).collect();
        let least = charges.iter().copied().fold(f64::INFINITY, f64::min);
        let most = charges.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let knots: Vec<f64> = (0..=pieces).map(|k| least + (most - least) * k as f64 / pieces as f64).collect();
        // What each point says of the unknowns: the voltages at the knots, then the resistance.
        let rows: Vec<(Vec<f64>, f64)> =
            points.iter().zip(&charges).map(|(point, &soc)| self.equation_of_fit(point, soc, &knots)).collect();
        let unknowns = knots.len() + 1;
        let normal = (0..unknowns)
            .map(|a| {
                let products = (0..unknowns).map(|b| rows.iter().map(|(row, _)| row[a] * row[b]).sum());
                products.chain([rows.iter().map(|(row, known)| row[a] * known).sum()]).collect()
            })
            .collect();
        let found = solve(normal).ok_or_else(|| PartError::Description {
            problem: format!("the discharges do not fix {pieces} pieces of the open-circuit curve and a resistance"),
            advice: "take fewer `pieces`, or give more points at different currents in each".into(),
        })?;
        let resistance = found[knots.len()];
        if !(resistance > 0.0) {
            return Err(PartError::Description {
                problem: format!("the discharges leave {resistance:.2e} ohm for the series resistance of a block"),
                advice:
                    "make `polarisation_resistance` smaller; if there is none, the discharges contradict each other: \
                         compare their temperatures and whether each began fully charged"
                        .into(),
            }
            .into());
        }
        let mut battery = self.clone();
        battery.series_resistance = Resistance::from_si(resistance);
        battery.open_circuit_points = knots.iter().zip(&found).map(|(&soc, &voltage)| [soc, voltage]).collect();
        battery.checked()?;
        let misfits = points
            .iter()
            .map(|point| DischargeMisfit {
                point: *point,
                fitted: battery.discharge_voltage(point.current, point.taken),
            })
            .collect();
        Ok(FittedBattery { battery, misfits })
    }

    /// Voltage across this battery, without faults, when a constant current has taken a charge out of it and its branches
    /// have settled, V.
    pub fn discharge_voltage(&self, current: Current, taken: Charge) -> Voltage {
        let soc = self.charge_after(&DischargePoint { current, taken, voltage: Voltage::default() });
        let left = Self { faults: BatteryFaults::default(), state_of_charge: Fraction::from_si(soc), ..self.clone() };
        let (open, resistance) = left.bank().source();
        let settled: f64 = self.branches().iter().flatten().map(|(r, _)| r).sum();
        let branches = settled * f64::from(self.blocks_in_series) / f64::from(self.strings_in_parallel);
        Voltage::from_si(open - current.si() * (resistance + branches))
    }

    fn charge_after(&self, point: &DischargePoint) -> f64 {
        let strings = f64::from(self.strings_in_parallel);
        let loss = self.peukert.map_or(1.0, |law| {
            let rated = law.rated_current(self.capacity).si();
            (point.current.si() / (strings * rated)).powf(law.exponent() - 1.0)
        });
        self.state_of_charge.si() - point.taken.si() * loss / (strings * self.capacity.si())
    }

    /// Coefficients of the knots' voltages and of the resistance, and what they add up to, for one block.
    fn equation_of_fit(&self, point: &DischargePoint, soc: f64, knots: &[f64]) -> (Vec<f64>, f64) {
        let mut row = vec![0.0; knots.len() + 1];
        let width = knots[1] - knots[0];
        let piece = (((soc - knots[0]) / width).floor().max(0.0) as usize).min(knots.len() - 2);
        let share = (soc - knots[piece]) / width;
        row[piece] = 1.0 - share;
        row[piece + 1] = share;
        let current = point.current.si() / f64::from(self.strings_in_parallel);
        let by_charge = PiecewiseLinear::new(self.resistance_by_charge.iter().map(|&[x, y]| (x, y)).collect());
        row[knots.len()] = -current * self.warmth() * by_charge.map_or(1.0, |curve| curve.value(soc));
        let settled: f64 = self.branches().iter().flatten().map(|(r, _)| r).sum();
        let shift = self.open_circuit_coefficient * (self.temperature_c.si() - super::battery::REFERENCE_C);
        let known = point.voltage.si() / f64::from(self.blocks_in_series) - shift + current * settled;
        (row, known)
    }

    fn check_points_of_fit(&self, points: &[DischargePoint], pieces: usize) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        self.checked()?;
        if !self.faults.none() {
            return Err(PartError::Description {
                problem: "the battery to be fitted has `faults`".into(),
                advice: "fit a battery without them, then add them".into(),
            });
        }
        if pieces == 0 {
            return Err(PartError::range("pieces", pieces, "1 or more"));
        }
        for (k, point) in points.iter().enumerate() {
            above_zero(&format!("current[{k}]"), point.current)?;
            not_negative(&format!("taken[{k}]"), point.taken)?;
            above_zero(&format!("voltage[{k}]"), point.voltage)?;
            let left = self.charge_after(point) >= 0.0;
            in_range(&format!("taken[{k}]"), point.taken, left, "no more than the battery holds at this current")?;
        }
        let currents = points.iter().map(|point| point.current.si());
        let (least, most) = (currents.clone().fold(f64::INFINITY, f64::min), currents.fold(0.0, f64::max));
        if most >= SPREAD * least {
            return Ok(());
        }
        Err(PartError::Description {
            problem: "the discharges are at one current, which cannot tell resistance from open-circuit voltage".into(),
            advice: format!("add points at a current {SPREAD} times larger or smaller"),
        })
    }
}
