//! Battery.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cut_off::CutOff;
use super::faults::BatteryFaults;
use super::peukert::Peukert;
use crate::error::{Error, PartError};
use crate::parts::{above_zero, in_range, quantity, share};
use crate::quantity::{Capacitance, Charge, Current, Fraction, IntoQuantity, Resistance, Temperature};
use crate::tables::{Chemistry, CrankingTest, PiecewiseLinear, freezing_point_c, open_circuit_voltage};

/// A battery of nominal 12 V blocks: open-circuit voltage and series resistance by charge and temperature, two R–C branches,
/// Peukert loss, a cut-off, faults.
///
/// ```text
/// v_plus - v_minus = V_oc(soc) + V_p + V_s + R i      i into plus: positive charges
/// C_p dV_p/dt = i - V_p / R_p                         V_p is negative under discharge; V_s, the slow branch, alike
/// Q dsoc/dt = i,  under discharge i (|i| / I_r)^(k - 1)   with Peukert's law
/// V_oc = table(soc) + open_circuit_coefficient (T - 25 °C)
/// R = series_resistance (1 + α (T - 25 °C)) r(soc)
/// ```
///
/// `V_oc`, `R` and `R_p` are those of a block times `blocks_in_series`; `Q`, `C_p` grow and `R`, `R_p` shrink with
/// `strings_in_parallel`. `α` is the `resistance_coefficient`, `r` interpolates `resistance_by_charge`. The table is that of
/// the chemistry, or `open_circuit_points`.
///
/// Without a series resistance it comes from the cold-cranking rating: see [`cranking_resistance`](Battery::cranking_resistance).
///
/// States: `current`, `polarisation_voltage` and `slow_polarisation_voltage` (held at an operating point unless settled),
/// `state_of_charge` (always held there); of a bad string beside good ones `bad_string_current` and so on; with a cut-off
/// `cell_voltage`. Probes: `open_circuit_voltage`, `terminal_voltage`; with a cut-off `connected`. Events: of the
/// [`CutOff`].
///
/// | typical of a 12 V block (no source unless named) | flooded | AGM | lithium iron phosphate |
/// | --- | --- | --- | --- |
/// | series resistance of 100 Ah, mΩ | 4 to 8 | 2.5 to 5 | 2 to 5 |
/// | slow branch, mΩ and s | 5, 100 | 4, 100 | 3, 60 |
/// | `α`, 1/K | -0.008 | -0.008 | -0.015 |
/// | open-circuit coefficient, mV/K (from memory) | 1.2 | 1.2 | below 1 |
/// | Peukert exponent | 1.25 | 1.1 | 1.0 |
///
/// Limits: one temperature for the whole run; no gassing, no charging efficiency; a flooded battery whose electrolyte would be
/// frozen is refused. When the state of charge leaves 0 to 1 during a run the end pieces of the open-circuit table go on as
/// straight lines.
///
/// Source: open-circuit voltage as [`open_circuit_voltage`] says; the equivalent circuit is the common one with branches, for
/// example G. L. Plett, Battery Management Systems, vol. 1 (2015), ch. 2 (from memory); Peukert's law and the cut-off as said
/// there.
///
/// # Example
/// ```
/// use stallpoint::parts::Battery;
///
/// let mut bank = Battery::agm("100 Ah", "5 mohm")?;
/// bank.blocks_in_series = 2;
/// bank.state_of_charge = "50 %".parse()?;
/// assert_eq!(bank.open_circuit_voltage(), 24.6);
///
/// let mut starter = Battery::by_cold_cranking_rating(bank.chemistry, "70 Ah", "650 A")?;
/// assert!((7.0e-3..9.0e-3).contains(&starter.resistance()));
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
    /// Series resistance of one block at 25 °C, ohm; by the cold-cranking rating when left out.
    #[serde(default = "none", skip_serializing_if = "is_none")]
    pub series_resistance: Resistance,
    /// Resistance of one block's R–C branch, ohm; there is no branch when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarisation_resistance: Option<Resistance>,
    /// Capacitance of one block's R–C branch, F; there is no branch when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarisation_capacitance: Option<Capacitance>,
    /// Resistance of one block's second, slower R–C branch, ohm; there is none when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slow_polarisation_resistance: Option<Resistance>,
    /// Capacitance of one block's second R–C branch, F.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slow_polarisation_capacitance: Option<Capacitance>,
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
    /// Factor of the series resistance at states of charge: [state of charge, factor], rising; 1 when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub resistance_by_charge: Vec<[f64; 2]>,
    /// Your own open-circuit voltage of one block at 25 °C: [state of charge, V], rising; the chemistry's when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub open_circuit_points: Vec<[f64; 2]>,
    /// Change of one block's open-circuit voltage with temperature, V/K.
    #[serde(default)]
    pub open_circuit_coefficient: f64,
    /// Cold-cranking rating of one block, A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cold_cranking_amperes: Option<Current>,
    /// The test behind the cold-cranking rating.
    #[serde(default)]
    pub cranking_test: CrankingTest,
    /// Peukert's law; every ampere-second counts the same when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub peukert: Option<Peukert>,
    /// Cut-off of a lithium pack's battery management; there is none when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_off: Option<CutOff>,
    /// What is wrong with it.
    #[serde(default, skip_serializing_if = "BatteryFaults::none")]
    pub faults: BatteryFaults,
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

fn none() -> Resistance {
    Resistance::from_si(0.0)
}

fn is_none(resistance: &Resistance) -> bool {
    resistance.si() == 0.0
}

/// Temperature at which resistances are given, °C: that of the open-circuit tables.
pub(super) const REFERENCE_C: f64 = 25.0;
/// Temperatures that a battery's model is for, °C.
const COLDEST: f64 = -40.0;
const HOTTEST: f64 = 80.0;

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
            series_resistance: quantity("series_resistance", series_resistance)?,
            ..Self::plain(chemistry, quantity("capacity", capacity)?)
        };
        battery.checked()?;
        Ok(battery)
    }

    /// A full block whose series resistance comes from its cold-cranking rating by SAE J537.
    ///
    /// # Errors
    /// A wrong unit; a capacity or rating that is not above zero.
    pub fn by_cold_cranking_rating(
        chemistry: Chemistry,
        capacity: impl IntoQuantity<Charge>,
        cold_cranking_amperes: impl IntoQuantity<Current>,
    ) -> Result<Self, Error> {
        let battery = Self {
            cold_cranking_amperes: Some(quantity("cold_cranking_amperes", cold_cranking_amperes)?),
            ..Self::plain(chemistry, quantity("capacity", capacity)?)
        };
        battery.checked()?;
        Ok(battery)
    }

    fn plain(chemistry: Chemistry, capacity: Charge) -> Self {
        Self {
            chemistry,
            capacity,
            state_of_charge: full(),
            series_resistance: none(),
            polarisation_resistance: None,
            polarisation_capacitance: None,
            slow_polarisation_resistance: None,
            slow_polarisation_capacitance: None,
            blocks_in_series: 1,
            strings_in_parallel: 1,
            temperature_c: reference_temperature(),
            resistance_coefficient: 0.0,
            resistance_by_charge: Vec::new(),
            open_circuit_points: Vec::new(),
            open_circuit_coefficient: 0.0,
            cold_cranking_amperes: None,
            cranking_test: CrankingTest::default(),
            peukert: None,
            cut_off: None,
            faults: BatteryFaults::default(),
        }
    }

    /// Series resistance of the whole bank at its temperature and initial state of charge, ohm, with its faults.
    pub fn resistance(&self) -> f64 {
        self.bank().source().1
    }

    /// Open-circuit voltage from `plus` to `minus` at the initial state of charge, V, with its faults; negative when reversed.
    pub fn open_circuit_voltage(&self) -> f64 {
        self.bank().source().0
    }

    /// Cells in series in each string.
    pub fn cells_in_series(&self) -> u32 {
        self.blocks_in_series.saturating_mul(open_circuit_voltage(self.chemistry).cells())
    }

    /// Resistance and capacitance of one block's R–C branches.
    pub(super) fn branches(&self) -> [Option<(f64, f64)>; 2] {
        let fast = self.polarisation_resistance.zip(self.polarisation_capacitance);
        let slow = self.slow_polarisation_resistance.zip(self.slow_polarisation_capacitance);
        [fast, slow].map(|branch| branch.map(|(r, c)| (r.si(), c.si())))
    }

    pub(super) fn warmth(&self) -> f64 {
        1.0 + self.resistance_coefficient * (self.temperature_c.si() - REFERENCE_C)
    }

    pub(super) fn checked(&self) -> Result<(), PartError> {
        above_zero("capacity", self.capacity)?;
        share("state_of_charge", self.state_of_charge)?;
        check_branch("", self.polarisation_resistance, self.polarisation_capacitance)?;
        check_branch("slow_", self.slow_polarisation_resistance, self.slow_polarisation_capacitance)?;
        for (argument, count) in
            [("blocks_in_series", self.blocks_in_series), ("strings_in_parallel", self.strings_in_parallel)]
        {
            if count == 0 {
                return Err(PartError::range(argument, count, "1 or more"));
            }
        }
        self.check_temperature()?;
        check_points("resistance_by_charge", &self.resistance_by_charge, "factor")?;
        check_points("open_circuit_points", &self.open_circuit_points, "voltage")?;
        self.check_cranking()?;
        if let Some(law) = self.peukert {
            if self.chemistry == Chemistry::LithiumIronPhosphate {
                return Err(PartError::Description {
                    problem: "`peukert` is given for lithium iron phosphate; the law is one of lead-acid batteries"
                        .into(),
                    advice: "leave it out".into(),
                });
            }
            law.check()?;
        }
        if let Some(cut_off) = &self.cut_off {
            cut_off.check()?;
        }
        self.faults.check(self.cells_in_series())
    }

    fn check_temperature(&self) -> Result<(), PartError> {
        let t = self.temperature_c;
        let allowed = format!("between {COLDEST} degC and {HOTTEST} degC, where the battery's model holds");
        in_range("temperature_c", t, (COLDEST..=HOTTEST).contains(&t.si()), &allowed)?;
        if self.chemistry == Chemistry::FloodedLeadAcid {
            let freezes = freezing_point_c(self.state_of_charge.si());
            let allowed = format!("above {freezes:.1} degC, where the electrolyte freezes at this state of charge");
            in_range("temperature_c", t, t.si() > freezes, &allowed)?;
        }
        if !self.open_circuit_coefficient.is_finite() {
            return Err(PartError::range("open_circuit_coefficient", self.open_circuit_coefficient, "finite"));
        }
        if self.warmth() > 0.0 && self.warmth().is_finite() {
            return Ok(());
        }
        let allowed = format!("such that the series resistance stays above zero at {t}");
        Err(PartError::range("resistance_coefficient", self.resistance_coefficient, &allowed))
    }
}

fn check_branch(name: &str, resistance: Option<Resistance>, capacitance: Option<Capacitance>) -> Result<(), PartError> {
    match (resistance, capacitance) {
        (Some(resistance), Some(capacitance)) => {
            above_zero(&format!("{name}polarisation_resistance"), resistance)?;
            above_zero(&format!("{name}polarisation_capacitance"), capacitance)
        }
        (None, None) => Ok(()),
        (given, _) => {
            let (given, missing) =
                if given.is_some() { ("resistance", "capacitance") } else { ("capacitance", "resistance") };
            Err(PartError::Description {
                problem: format!("`{name}polarisation_{given}` is given without `{name}polarisation_{missing}`"),
                advice: "give both for an R-C branch, or neither for none".into(),
            })
        }
    }
}

/// Points of a curve by state of charge: two or more, rising, all above zero.
fn check_points(argument: &str, points: &[[f64; 2]], what: &str) -> Result<(), PartError> {
    if points.is_empty() {
        return Ok(());
    }
    let curve = PiecewiseLinear::new(points.iter().map(|&[soc, y]| (soc, y)).collect());
    let above = points.iter().all(|&[soc, y]| (0.0..=1.0).contains(&soc) && y > 0.0);
    if curve.is_some() && above {
        return Ok(());
    }
    let allowed =
        format!("two or more pairs [state of charge, {what}] of rising charge from 0 to 1 and {what}s above 0");
    Err(PartError::range(argument, format!("{points:?}"), &allowed))
}
