//! Permanent-magnet motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, DryFriction, Pace, Part, Power, Probe, Stamp, Terminal, Unknown, electrical, shaft};
use crate::error::PartError;
use crate::quantity::{
    AngularDamping, Current, HeatCapacity, Inductance, Inertia, Resistance, Temperature, ThermalResistance, Torque,
    TorqueConstant, Voltage,
};

/// A brushed permanent-magnet motor.
///
/// ```text
/// v_plus - v_minus = d/dt (L i) + R(T) i + V_b tanh(i / I_b) + K_e ω
/// torque on the shaft = K_t i - B ω,   dry friction and inertia go to the shaft
/// C dT/dt = R(T) i² - (T - T_ambient) / R_th,   R(T) = R_20 (1 + α (T - 20 °C))
/// ```
///
/// A positive current turns it forward. States: `current`, `winding_temperature`; probes: `speed`, `torque` (of the air
/// gap), `back_emf`.
///
/// Limits: no saturation, no cogging; one body for the winding's heat; `α` is copper's (IEC 60028).
///
/// Source: any textbook of electric machines, for example A. E. Fitzgerald et al., Electric Machinery.
///
/// # Example
/// ```
/// use stallpoint::parts::PermanentMagnetMotor;
///
/// let motor = PermanentMagnetMotor {
///     brush_drop: "0.8 V".parse()?,
///     ..PermanentMagnetMotor::new("25 mohm", "120 uH", "0.045 N m/A", "0.004 kg m2")?
/// };
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PermanentMagnetMotor {
    /// Armature resistance at 20 °C with brushes, ohm.
    pub resistance: Resistance,
    /// Armature inductance, H.
    pub inductance: Inductance,
    /// Torque constant `K_t`, N·m/A.
    pub torque_constant: TorqueConstant,
    /// Back-EMF constant `K_e`, V·s/rad; equal to the torque constant when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_emf_constant: Option<TorqueConstant>,
    /// Rotor inertia, kg·m².
    pub inertia: Inertia,
    /// Brush drop `V_b`, V, both brushes together.
    #[serde(default)]
    pub brush_drop: Voltage,
    /// Current `I_b` at which the brush drop is about three quarters there, A (typical, no source).
    #[serde(default = "brush_current")]
    pub brush_current: Current,
    /// Viscous friction `B`, N·m·s/rad.
    #[serde(default)]
    pub viscous_friction: AngularDamping,
    /// Dry friction while turning, N·m.
    #[serde(default)]
    pub friction: Torque,
    /// Dry friction to start moving, N·m; as `friction` when less.
    #[serde(default)]
    pub breakaway: Torque,
    /// Winding temperature at the start, °C.
    #[serde(default = "twenty")]
    pub winding_temperature_c: Temperature,
    /// Ambient temperature, °C.
    #[serde(default = "twenty")]
    pub ambient_c: Temperature,
    /// Heat capacity of the winding, J/K; its temperature is constant when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_capacity: Option<HeatCapacity>,
    /// Thermal resistance winding to ambient, K/W; no cooling when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thermal_resistance: Option<ThermalResistance>,
    /// Highest winding temperature allowed, °C, from the data sheet or the insulation class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_winding_temperature_c: Option<Temperature>,
}

fn brush_current() -> Current {
    Current::from_si(1.0) // typical, no source
}

fn twenty() -> Temperature {
    Temperature::from_si(20.0)
}

/// Temperature coefficient of copper at 20 °C, 1/K (IEC 60028).
const COPPER: f64 = 0.00393;

const PLUS: usize = 0;
const MINUS: usize = 1;
const SHAFT: usize = 2;
const I: usize = 3;
const T: usize = 4;
const TERMINALS: [Terminal; 3] = [electrical("plus"), electrical("minus"), shaft("shaft")];
const PROBES: [Probe; 3] = [
    Probe { name: "speed", unit: "rad/s" },
    Probe { name: "torque", unit: "N m" },
    Probe { name: "back_emf", unit: "V" },
];

impl PermanentMagnetMotor {
    /// A motor without friction, brush drop and heating; set those fields as needed.
    ///
    /// # Errors
    /// A wrong unit; a value that is not above zero.
    pub fn new(
        resistance: impl crate::quantity::IntoQuantity<Resistance>,
        inductance: impl crate::quantity::IntoQuantity<Inductance>,
        torque_constant: impl crate::quantity::IntoQuantity<TorqueConstant>,
        inertia: impl crate::quantity::IntoQuantity<Inertia>,
    ) -> Result<Self, crate::Error> {
        let motor = Self {
            resistance: crate::parts::quantity("resistance", resistance)?,
            inductance: crate::parts::quantity("inductance", inductance)?,
            torque_constant: crate::parts::quantity("torque_constant", torque_constant)?,
            back_emf_constant: None,
            inertia: crate::parts::quantity("inertia", inertia)?,
            brush_drop: Voltage::default(),
            brush_current: brush_current(),
            viscous_friction: AngularDamping::default(),
            friction: Torque::default(),
            breakaway: Torque::default(),
            winding_temperature_c: twenty(),
            ambient_c: twenty(),
            heat_capacity: None,
            thermal_resistance: None,
            max_winding_temperature_c: None,
        };
        motor.check()?;
        Ok(motor)
    }

    /// Back-EMF constant, V·s/rad.
    pub fn back_emf(&self) -> f64 {
        self.back_emf_constant.unwrap_or(self.torque_constant).si()
    }

    /// Armature resistance at a winding temperature, ohm.
    pub fn resistance_at(&self, temperature_c: f64) -> f64 {
        self.resistance.si() * (1.0 + COPPER * (temperature_c - 20.0))
    }

    /// Brush drop and its derivative at a current.
    fn brush(&self, i: f64) -> (f64, f64) {
        let th = (i / self.brush_current.si()).tanh();
        (self.brush_drop.si() * th, self.brush_drop.si() / self.brush_current.si() * (1.0 - th * th))
    }

    /// Heat that leaves the winding at temperature `t`, W, and its derivative.
    fn cooling(&self, t: f64) -> (f64, f64) {
        let conductance = self.thermal_resistance.map_or(0.0, |r| 1.0 / r.si());
        ((t - self.ambient_c.si()) * conductance, conductance)
    }
}

impl Part for PermanentMagnetMotor {
    fn kind(&self) -> &'static str {
        "permanent-magnet motor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("resistance", self.resistance)?;
        above_zero("inductance", self.inductance)?;
        above_zero("torque_constant", self.torque_constant)?;
        if let Some(constant) = self.back_emf_constant {
            above_zero("back_emf_constant", constant)?;
        }
        above_zero("inertia", self.inertia)?;
        not_negative("brush_drop", self.brush_drop)?;
        above_zero("brush_current", self.brush_current)?;
        not_negative("viscous_friction", self.viscous_friction)?;
        not_negative("friction", self.friction)?;
        not_negative("breakaway", self.breakaway)?;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        for (argument, value) in [("winding_temperature_c", self.winding_temperature_c), ("ambient_c", self.ambient_c)]
        {
            in_range(argument, value, value.si() > -100.0 && value.si() < 400.0, "between -100 degC and 400 degC")?;
        }
        if let Some(capacity) = self.heat_capacity {
            above_zero("heat_capacity", capacity)?;
        }
        if let Some(resistance) = self.thermal_resistance {
            above_zero("thermal_resistance", resistance)?;
        }
        Ok(())
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let mut winding = Unknown::slow("winding_temperature", "degC", 10.0, self.winding_temperature_c.si());
        if self.heat_capacity.is_none() || self.thermal_resistance.is_none() {
            winding.pace = Pace::Accumulator; // it never warms, or warms for ever: no equilibrium to seek
        }
        vec![Unknown::fast("current", "A", 1.0), winding]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (i, omega, t) = (at.x(I), at.x(SHAFT), at.x(T));
        let (l, ke, kt, b) =
            (self.inductance.si(), self.back_emf(), self.torque_constant.si(), self.viscous_friction.si());
        let r = self.resistance_at(t);
        let r_slope = self.resistance.si() * COPPER;
        let (brush, brush_slope) = self.brush(i);
        crate::parts::branch_current(at, out, PLUS, MINUS, I);

        out.q(I, l * i);
        out.dq(I, I, l);
        out.f(I, r * i + brush + ke * omega - at.x(PLUS) + at.x(MINUS));
        out.df(I, I, r + brush_slope);
        out.df(I, SHAFT, ke);
        out.df(I, T, r_slope * i);
        out.df(I, PLUS, -1.0);
        out.df(I, MINUS, 1.0);

        out.f(SHAFT, b * omega - kt * i);
        out.df(SHAFT, SHAFT, b);
        out.df(SHAFT, I, -kt);

        // Without a heat capacity the temperature stays where it is: its rate is zero.
        let (capacity, heating) = self.heat_capacity.map_or((1.0, 0.0), |c| (c.si(), 1.0));
        let (cooling, cooling_slope) = self.cooling(t);
        out.q(T, capacity * t);
        out.dq(T, T, capacity);
        out.f(T, heating * (cooling - r * i * i));
        out.df(T, T, heating * (cooling_slope - r_slope * i * i));
        out.df(T, I, -heating * 2.0 * r * i);
    }

    fn power(&self, at: &At) -> Power {
        let (i, omega) = (at.x(I), at.x(SHAFT));
        let unequal = (self.back_emf() - self.torque_constant.si()) * omega * i;
        let heat = self.resistance_at(at.x(T)) * i * i + self.brush(i).0 * i;
        Power { delivered: 0.0, dissipated: heat + unequal + self.viscous_friction.si() * omega * omega }
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.inductance.si() * at.x(I) * at.x(I)
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => at.x(SHAFT),
            1 => self.torque_constant.si() * at.x(I),
            _ => self.back_emf() * at.x(SHAFT),
        }
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn dry_friction(&self) -> DryFriction {
        DryFriction { running: self.friction.si(), breakaway: self.breakaway.si() }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
