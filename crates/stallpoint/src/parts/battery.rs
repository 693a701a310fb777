//! Battery.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Power, Probe, Stamp, Terminal, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{Capacitance, Charge, Current, Fraction, IntoQuantity, Resistance, Temperature};
use crate::tables::{Chemistry, OpenCircuitVoltage, open_circuit_voltage};

/// A battery of nominal 12 V blocks: open-circuit voltage by charge, series resistance, one R–C branch.
///
/// ```text
/// v_plus - v_minus = V_oc(soc) + V_p + R i          i into plus: positive charges
/// C_p dV_p/dt = i - V_p / R_p                       V_p is negative under discharge
/// Q dsoc/dt = i
/// ```
///
/// `V_oc`, `R` and `R_p` are those of a block times `blocks_in_series`; `Q`, `C_p` grow and `R`, `R_p` shrink with
/// `strings_in_parallel`. `R = series_resistance (1 + α (T - 25 °C))` with `α` the `resistance_coefficient`.
///
/// States: `current`, `polarisation_voltage` (held at an operating point unless it is settled), `state_of_charge`
/// (always held there). Probes: `open_circuit_voltage`, `terminal_voltage`.
///
/// Limits: one temperature for the whole run, which changes the series resistance only; every ampere-second counts the
/// same (no Peukert loss, no gassing); all blocks are alike; a block of a lithium pack has no cut-off of its own. When
/// the state of charge leaves 0 to 1 during a run the end pieces of the open-circuit table go on as straight lines.
///
/// Source: open-circuit voltage as [`open_circuit_voltage`] says; the equivalent circuit is the common one-branch model,
/// for example G. L. Plett, Battery Management Systems, vol. 1 (2015), ch. 2 (from memory).
///
/// # Example
/// ```
/// use stallpoint::parts::Battery;
///
/// let mut bank = Battery::agm("100 Ah", "5 mohm")?;
/// bank.blocks_in_series = 2;
/// bank.state_of_charge = "50 %".parse()?;
/// assert_eq!(bank.open_circuit_voltage(), 24.6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Battery {
    /// Chemistry; it chooses the open-circuit table.
    pub chemistry: Chemistry,
    /// Capacity of one block, C; "100 Ah" reads.
    pub capacity: Charge,
    /// State of charge at the start, 0 to 1.
    #[serde(default = "full")]
    pub state_of_charge: Fraction,
    /// Series resistance of one block at 25 °C, ohm.
    pub series_resistance: Resistance,
    /// Resistance of one block's R–C branch, ohm; there is no branch when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarisation_resistance: Option<Resistance>,
    /// Capacitance of one block's R–C branch, F; there is no branch when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarisation_capacitance: Option<Capacitance>,
    /// Nominal 12 V blocks in series (six lead-acid or four lithium iron phosphate cells each).
    #[serde(default = "one")]
    pub blocks_in_series: u32,
    /// Strings of such blocks in parallel.
    #[serde(default = "one")]
    pub strings_in_parallel: u32,
    /// Temperature, °C.
    #[serde(default = "reference_temperature")]
    pub temperature_c: Temperature,
    /// Relative change `α` of the series resistance with temperature, 1/K; negative when cold raises it.
    #[serde(default)]
    pub resistance_coefficient: f64,
    /// Cold-cranking rating of one block, A; only studies use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cold_cranking_amperes: Option<Current>,
}

fn full() -> Fraction {
    Fraction::from_si(1.0)
}

fn one() -> u32 {
    1
}

fn reference_temperature() -> Temperature {
    Temperature::from_si(REFERENCE_C)
}

/// Temperature at which resistances are given, °C: that of the open-circuit tables.
const REFERENCE_C: f64 = 25.0;

const PLUS: usize = 0;
const MINUS: usize = 1;
const I: usize = 2;
const POLARISATION: usize = 3;
const SOC: usize = 4;
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];
const PROBES: [Probe; 2] =
    [Probe { name: "open_circuit_voltage", unit: "V" }, Probe { name: "terminal_voltage", unit: "V" }];

impl Battery {
    /// A full block with absorbed glass mat.
    ///
    /// # Errors
    /// A wrong unit; a capacity or resistance that is not above zero.
    pub fn agm(
        capacity: impl IntoQuantity<Charge>,
        series_resistance: impl IntoQuantity<Resistance>,
    ) -> Result<Self, Error> {
        Self::new(Chemistry::AgmLeadAcid, capacity, series_resistance)
    }

    /// A full lead-acid block with free electrolyte.
    ///
    /// # Errors
    /// As for [`agm`](Battery::agm).
    pub fn flooded(
        capacity: impl IntoQuantity<Charge>,
        series_resistance: impl IntoQuantity<Resistance>,
    ) -> Result<Self, Error> {
        Self::new(Chemistry::FloodedLeadAcid, capacity, series_resistance)
    }

    /// A full lithium-iron-phosphate block.
    ///
    /// # Errors
    /// As for [`agm`](Battery::agm).
    pub fn lithium_iron_phosphate(
        capacity: impl IntoQuantity<Charge>,
        series_resistance: impl IntoQuantity<Resistance>,
    ) -> Result<Self, Error> {
        Self::new(Chemistry::LithiumIronPhosphate, capacity, series_resistance)
    }

    /// A full block of any chemistry, without an R–C branch.
    ///
    /// # Errors
    /// As for [`agm`](Battery::agm).
    pub fn new(
        chemistry: Chemistry,
        capacity: impl IntoQuantity<Charge>,
        series_resistance: impl IntoQuantity<Resistance>,
    ) -> Result<Self, Error> {
        let battery = Self {
            chemistry,
            capacity: super::quantity("capacity", capacity)?,
            state_of_charge: full(),
            series_resistance: super::quantity("series_resistance", series_resistance)?,
            polarisation_resistance: None,
            polarisation_capacitance: None,
            blocks_in_series: 1,
            strings_in_parallel: 1,
            temperature_c: reference_temperature(),
            resistance_coefficient: 0.0,
            cold_cranking_amperes: None,
        };
        battery.check()?;
        Ok(battery)
    }

    /// Series resistance of the whole bank at its temperature, ohm.
    pub fn resistance(&self) -> f64 {
        self.series_resistance.si() * self.warmth() * self.blocks() / self.strings()
    }

    /// Open-circuit voltage of the whole bank at its initial state of charge, V.
    pub fn open_circuit_voltage(&self) -> f64 {
        self.voltage_at(self.state_of_charge.si()).0
    }

    /// Open-circuit voltage of the bank at a state of charge, and its slope.
    fn voltage_at(&self, soc: f64) -> (f64, f64) {
        let block: &OpenCircuitVoltage = open_circuit_voltage(self.chemistry);
        (self.blocks() * block.value(soc), self.blocks() * block.slope(soc))
    }

    /// Resistance and capacitance of the bank's R–C branch.
    fn branch(&self) -> Option<(f64, f64)> {
        let (r, c) = (self.polarisation_resistance?, self.polarisation_capacitance?);
        let scale = self.blocks() / self.strings();
        Some((r.si() * scale, c.si() / scale))
    }

    fn warmth(&self) -> f64 {
        1.0 + self.resistance_coefficient * (self.temperature_c.si() - REFERENCE_C)
    }

    fn blocks(&self) -> f64 {
        f64::from(self.blocks_in_series)
    }

    fn strings(&self) -> f64 {
        f64::from(self.strings_in_parallel)
    }
}

impl Part for Battery {
    fn kind(&self) -> &'static str {
        "battery"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("capacity", self.capacity)?;
        let soc = self.state_of_charge;
        super::in_range("state_of_charge", soc, (0.0..=1.0).contains(&soc.si()), "between 0 and 1")?;
        super::above_zero("series_resistance", self.series_resistance)?;
        match (self.polarisation_resistance, self.polarisation_capacitance) {
            (Some(resistance), Some(capacitance)) => {
                super::above_zero("polarisation_resistance", resistance)?;
                super::above_zero("polarisation_capacitance", capacitance)?;
            }
            (None, None) => {}
            (given, _) => {
                let (given, missing) =
                    if given.is_some() { ("resistance", "capacitance") } else { ("capacitance", "resistance") };
                return Err(PartError::Description {
                    problem: format!("`polarisation_{given}` is given without `polarisation_{missing}`"),
                    advice: "give both for an R-C branch, or neither for none".into(),
                });
            }
        }
        for (argument, count) in
            [("blocks_in_series", self.blocks_in_series), ("strings_in_parallel", self.strings_in_parallel)]
        {
            if count == 0 {
                return Err(PartError::range(argument, count, "1 or more"));
            }
        }
        let t = self.temperature_c;
        super::in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")?;
        if !(self.warmth() > 0.0 && self.warmth().is_finite()) {
            let allowed = format!("such that the series resistance stays above zero at {t}");
            return Err(PartError::range("resistance_coefficient", self.resistance_coefficient, &allowed));
        }
        match self.cold_cranking_amperes {
            Some(current) => super::above_zero("cold_cranking_amperes", current),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![
            Unknown::fast("current", "A", 1.0),
            Unknown::slow("polarisation_voltage", "V", 0.1, 0.0),
            // Not slow: at an equilibrium of the charge there is no current at all, so it is held even when settled.
            Unknown::accumulator("state_of_charge", 0.1, self.state_of_charge.si()),
        ]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (i, polarisation) = (at.x(I), at.x(POLARISATION));
        let (r, (voltage, slope)) = (self.resistance(), self.voltage_at(at.x(SOC)));
        super::branch_current(at, out, PLUS, MINUS, I);

        out.f(I, voltage + polarisation + r * i - at.x(PLUS) + at.x(MINUS));
        out.df(I, SOC, slope);
        out.df(I, POLARISATION, 1.0);
        out.df(I, I, r);
        out.df(I, PLUS, -1.0);
        out.df(I, MINUS, 1.0);

        match self.branch() {
            Some((r, c)) => {
                out.q(POLARISATION, c * polarisation);
                out.dq(POLARISATION, POLARISATION, c);
                out.f(POLARISATION, polarisation / r - i);
                out.df(POLARISATION, POLARISATION, 1.0 / r);
                out.df(POLARISATION, I, -1.0);
            }
            None => {
                out.f(POLARISATION, polarisation);
                out.df(POLARISATION, POLARISATION, 1.0);
            }
        }

        let capacity = self.capacity.si() * self.strings();
        out.q(SOC, capacity * at.x(SOC));
        out.dq(SOC, SOC, capacity);
        out.f(SOC, -i);
        out.df(SOC, I, -1.0);
    }

    fn power(&self, at: &At) -> Power {
        let (i, polarisation) = (at.x(I), at.x(POLARISATION));
        let in_branch = self.branch().map_or(0.0, |(r, _)| polarisation * polarisation / r);
        Power { delivered: -self.voltage_at(at.x(SOC)).0 * i, dissipated: self.resistance() * i * i + in_branch }
    }

    fn stored(&self, at: &At) -> f64 {
        self.branch().map_or(0.0, |(_, c)| 0.5 * c * at.x(POLARISATION) * at.x(POLARISATION))
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.voltage_at(at.x(SOC)).0,
            _ => at.x(PLUS) - at.x(MINUS),
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
