//! Test lamp.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::brightness::Brightness;
use crate::circuit::{At, Part, Power as PartPower, Probe, Stamp, Terminal, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity, Power, Resistance, Temperature, Time, Voltage};

/// A test lamp of stated volts and watts, with a tungsten filament that heats.
///
/// ```text
/// i = v / R(T),   R = R_r (T / T_r)^1.2
/// C dT/dt = v² / R - P(T)
/// P = W ((1 - s) (T⁴ - T_a⁴) / (T_r⁴ - T_a⁴) + s (T - T_a) / (T_r - T_a))
/// light = (√(R P) / V_r)^3.4 of the rated light
/// ```
///
/// with `V_r`, `W` of the rating, `R_r = V_r²/W`, and `T_r` from the cold resistance. A cold filament has about a thirteenth of
/// its hot resistance, so at low voltage the lamp draws more than its rating says, and loads a bad joint more.
///
/// States: `filament_temperature` (°C); probes: `power` (W), `resistance` (ohm), `light` (share of the rated light).
///
/// Limits: one temperature along the filament; the lamp does not burn out; the light follows the temperature at once.
///
/// Source: radiation and conduction as two terms: M. Carlà, Am. J. Phys. 81 (2013) 512. The share `s` is set so that the
/// current near the rated point goes as the voltage to the power 0.487, as measured on a small lamp (New Physics: Sae Mulli
/// 73 (2023) 127). The exponents 1.2 of tungsten's resistance and 3.4 of the light are from memory of lamp handbooks. Cold
/// resistance, warm-up time: typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::TestLamp;
///
/// let lamp = TestLamp::new("12 V", "21 W")?;
/// assert!((lamp.resistance() - 144.0 / 21.0).abs() < 1e-12);
/// assert!((lamp.light_at(lamp.rated_temperature_c()) - 1.0).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestLamp {
    /// Rated voltage, V.
    pub rated_voltage: Voltage,
    /// Power at the rated voltage, W.
    pub rated_power: Power,
    /// Resistance at 20 °C, ohm, as an ohmmeter reads it; a thirteenth of the hot one when left out (2500 K filament).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cold_resistance: Option<Resistance>,
    /// Share of the rated power that leaves by conduction.
    #[serde(default = "conduction_share")]
    pub conduction_share: Fraction,
    /// Heat stored in the filament at its rated point over the rated power, s.
    #[serde(default = "warm_up_time")]
    pub warm_up_time: Time,
    /// Ambient temperature, at which the filament starts, °C.
    #[serde(default = "ambient")]
    pub ambient_c: Temperature,
    /// Highest voltage that an operator may put it on, V; 1.25 times the rating when left out (typical, no source: a 12 V
    /// lamp must stand a battery on charge).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub highest_voltage: Option<Voltage>,
}

fn conduction_share() -> Fraction {
    Fraction::from_si(0.16) // brings the slope of the current to the measured 0.487: see the source above
}
fn warm_up_time() -> Time {
    Time::from_si(0.1) // typical, no source
}
fn ambient() -> Temperature {
    Temperature::from_si(20.0)
}

const A: usize = 0;
const B: usize = 1;
const T: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const PROBES: [Probe; 3] =
    [Probe { name: "power", unit: "W" }, Probe { name: "resistance", unit: "ohm" }, Probe { name: "light", unit: "1" }];

/// 0 °C, K.
const ZERO: f64 = 273.15;
/// Exponents of resistance with absolute temperature and of light with voltage: from memory.
const RESISTANCE: f64 = 1.2;
const LIGHT: f64 = 3.4;
/// Filament at the rated point when no cold resistance is given, K (typical, no source).
const RATED: f64 = 2500.0;
/// Below this the resistance no longer falls, K: only Newton's trial values come here.
const COLDEST: f64 = 100.0;
/// Highest voltage over the rating (typical, no source).
const HIGHEST: f64 = 1.25;

impl TestLamp {
    /// A lamp by its rating.
    ///
    /// # Errors
    /// A wrong unit; a rating that is not above zero.
    pub fn new(
        rated_voltage: impl IntoQuantity<Voltage>,
        rated_power: impl IntoQuantity<Power>,
    ) -> Result<Self, Error> {
        let lamp = Self {
            rated_voltage: super::quantity("rated_voltage", rated_voltage)?,
            rated_power: super::quantity("rated_power", rated_power)?,
            cold_resistance: None,
            conduction_share: conduction_share(),
            warm_up_time: warm_up_time(),
            ambient_c: ambient(),
            highest_voltage: None,
        };
        lamp.check()?;
        Ok(lamp)
    }

    /// Resistance at the rated point, ohm.
    pub fn resistance(&self) -> f64 {
        self.rated_voltage.si() * self.rated_voltage.si() / self.rated_power.si()
    }

    /// Filament temperature at the rated point, °C.
    pub fn rated_temperature_c(&self) -> f64 {
        self.rated_kelvin() - ZERO
    }

    /// Highest voltage that an operator may put it on, V.
    pub fn highest(&self) -> f64 {
        self.highest_voltage.map_or(HIGHEST * self.rated_voltage.si(), |given| given.si())
    }

    /// Share of the rated light at a filament temperature (°C).
    pub fn light_at(&self, temperature_c: f64) -> f64 {
        let v2 = self.resistance_at(temperature_c).0 * self.loss(temperature_c).0.max(0.0);
        (v2.sqrt() / self.rated_voltage.si()).powf(LIGHT)
    }

    /// How bright it looks at a filament temperature (°C).
    pub fn brightness_at(&self, temperature_c: f64) -> Brightness {
        Brightness::of(temperature_c, self.light_at(temperature_c))
    }

    /// Temperature at which its filament settles behind a voltage (V) with a resistance (ohm), °C: by bisection.
    pub(crate) fn settled_behind(&self, volts: f64, ohms: f64) -> f64 {
        let needed = |t: f64| {
            let (r, p) = (self.resistance_at(t).0, self.loss(t).0.max(0.0));
            (r * p).sqrt() + ohms * (p / r).sqrt()
        };
        let (mut low, mut high) = (self.ambient_c.si(), 4.0 * self.rated_kelvin());
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if needed(middle) < volts.abs() { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    fn rated_kelvin(&self) -> f64 {
        let cold = 20.0 + ZERO;
        self.cold_resistance.map_or(RATED, |r| cold * (self.resistance() / r.si()).powf(1.0 / RESISTANCE))
    }

    /// Resistance and its slope at a temperature in °C.
    fn resistance_at(&self, temperature_c: f64) -> (f64, f64) {
        let kelvin = temperature_c + ZERO;
        let r = self.resistance() * (kelvin.max(COLDEST) / self.rated_kelvin()).powf(RESISTANCE);
        (r, if kelvin > COLDEST { RESISTANCE * r / kelvin } else { 0.0 })
    }

    /// Power that leaves the filament and its slope at a temperature in °C.
    fn loss(&self, temperature_c: f64) -> (f64, f64) {
        let (t, ambient, rated) = (temperature_c + ZERO, self.ambient_c.si() + ZERO, self.rated_kelvin());
        let (w, share) = (self.rated_power.si(), self.conduction_share.si());
        let radiated = w * (1.0 - share) / (rated.powi(4) - ambient.powi(4));
        let conducted = w * share / (rated - ambient);
        let fourth = t.powi(3) * t.abs(); // falls on below absolute zero, for Newton's trial values
        (
            radiated * (fourth - ambient.powi(4)) + conducted * (t - ambient),
            4.0 * radiated * t.abs().powi(3) + conducted,
        )
    }

    fn heat_capacity(&self) -> f64 {
        self.warm_up_time.si() * self.rated_power.si() / (self.rated_kelvin() - self.ambient_c.si() - ZERO)
    }

    /// Power taken from the circuit.
    fn taken(&self, at: &At) -> f64 {
        let v = at.x(A) - at.x(B);
        v * v / self.resistance_at(at.x(T)).0
    }
}

impl Part for TestLamp {
    fn kind(&self) -> &'static str {
        "test lamp"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use super::{above_zero, in_range};
        above_zero("rated_voltage", self.rated_voltage)?;
        above_zero("rated_power", self.rated_power)?;
        if let Some(cold) = self.cold_resistance {
            let ratio = self.resistance() / cold.si();
            let allowed = format!("a half to a twentieth of the hot resistance, {:.3} ohm", self.resistance());
            in_range("cold_resistance", cold, (2.0..=20.0).contains(&ratio), &allowed)?;
        }
        let share = self.conduction_share.si();
        in_range("conduction_share", self.conduction_share, (0.0..1.0).contains(&share), "from 0 to below 1")?;
        above_zero("warm_up_time", self.warm_up_time)?;
        let ambient = self.ambient_c.si();
        in_range("ambient_c", self.ambient_c, (-60.0..=100.0).contains(&ambient), "between -60 degC and 100 degC")?;
        if let Some(highest) = self.highest_voltage {
            let allowed = format!("at least the rated voltage, {}", self.rated_voltage);
            in_range("highest_voltage", highest, highest >= self.rated_voltage, &allowed)?;
        }
        Ok(())
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let initial = self.ambient_c.si();
        vec![Unknown { initial, ..Unknown::fast("filament_temperature", "degC", 100.0) }]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let v = at.x(A) - at.x(B);
        let (r, r_slope) = self.resistance_at(at.x(T));
        let (g, by_temperature) = (1.0 / r, -v * r_slope / (r * r));
        for (row, sign) in [(A, 1.0), (B, -1.0)] {
            out.f(row, sign * g * v);
            out.df(row, A, sign * g);
            out.df(row, B, -sign * g);
            out.df(row, T, sign * by_temperature);
        }
        let c = self.heat_capacity();
        let (loss, loss_slope) = self.loss(at.x(T));
        out.q(T, c * at.x(T));
        out.dq(T, T, c);
        out.f(T, loss - g * v * v);
        out.df(T, T, loss_slope - v * by_temperature);
        out.df(T, A, -2.0 * g * v);
        out.df(T, B, 2.0 * g * v);
    }

    fn power(&self, at: &At) -> PartPower {
        PartPower { delivered: 0.0, dissipated: self.loss(at.x(T)).0 }
    }

    fn stored(&self, at: &At) -> f64 {
        self.heat_capacity() * (at.x(T) - self.ambient_c.si())
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.taken(at),
            1 => self.resistance_at(at.x(T)).0,
            _ => self.light_at(at.x(T)),
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
