//! Diode.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Power, Stamp, Terminal, electrical};
use crate::error::PartError;
use crate::quantity::{Current, Voltage};

/// A diode after Shockley: `i = I_s (exp(v / n V_T) - 1)`, continued as a straight line beyond `linear_above` so that no
/// trial value overflows.
///
/// Limits: no breakdown, no capacitance, one temperature.
///
/// Source: W. Shockley, Bell Syst. Tech. J. 28 (1949) 435; the default is a small silicon power diode (typical, no source).
///
/// # Example
/// ```
/// let diode = stallpoint::parts::Diode::default();
/// assert!(diode.current(0.7) > 1e-3);
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Diode {
    /// Saturation current, A.
    pub saturation_current: Current,
    /// `n V_T`: ideality times thermal voltage, V.
    pub slope_voltage: Voltage,
    /// Voltage above which the curve goes on as its tangent, V.
    pub linear_above: Voltage,
}

impl Default for Diode {
    // typical, no source
    fn default() -> Self {
        Self {
            saturation_current: Current::from_si(1e-10),
            slope_voltage: Voltage::from_si(0.0414),
            linear_above: Voltage::from_si(1.2),
        }
    }
}

const ANODE: usize = 0;
const CATHODE: usize = 1;
const TERMINALS: [Terminal; 2] = [electrical("anode"), electrical("cathode")];

impl Diode {
    /// Current at a forward voltage, A.
    pub fn current(&self, v: f64) -> f64 {
        self.current_and_slope(v).0
    }

    /// Current and its derivative at a forward voltage.
    pub(crate) fn current_and_slope(&self, v: f64) -> (f64, f64) {
        let (saturation, slope, knee) = (self.saturation_current.si(), self.slope_voltage.si(), self.linear_above.si());
        let within = v.min(knee);
        let growth = (within / slope).exp();
        let conductance = saturation / slope * growth;
        (saturation * (growth - 1.0) + conductance * (v - within), conductance)
    }
}

impl Part for Diode {
    fn kind(&self) -> &'static str {
        "diode"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("saturation_current", self.saturation_current)?;
        super::above_zero("slope_voltage", self.slope_voltage)?;
        let knee = self.linear_above;
        let most = 500.0 * self.slope_voltage.si();
        super::in_range("linear_above", knee, knee.si() > 0.0 && knee.si() < most, &format!("between 0 V and {most} V"))
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (current, slope) = self.current_and_slope(at.x(ANODE) - at.x(CATHODE));
        out.f(ANODE, current);
        out.f(CATHODE, -current);
        out.df(ANODE, ANODE, slope);
        out.df(ANODE, CATHODE, -slope);
        out.df(CATHODE, ANODE, -slope);
        out.df(CATHODE, CATHODE, slope);
    }

    fn power(&self, at: &At) -> Power {
        let v = at.x(ANODE) - at.x(CATHODE);
        Power { delivered: 0.0, dissipated: v * self.current(v) }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
