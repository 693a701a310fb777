//! Permanent-magnet motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::{Armature, MotorCase, brush_current, twenty};
use super::armature_equations::{Flux, Places};
use super::faults::ArmatureFaults;
use super::variation::ResistanceVariation;
use crate::circuit::{At, DryFriction, Part, Power, Probe, Stamp, Terminal, Unknown, electrical, shaft};
use crate::error::PartError;
use crate::quantity::{
    Angle, AngularDamping, Current, Fraction, HeatCapacity, Inductance, Inertia, Resistance, Temperature,
    ThermalResistance, Torque, TorqueConstant, Voltage,
};

/// A brushed permanent-magnet motor.
///
/// ```text
/// v_plus - v_minus = d/dt (L i) + R(T) i + V_b tanh(i / I_b) + m K_e ω
/// torque on the shaft = m K_t i - B ω,   dry friction and inertia go to the shaft
/// C dT/dt = R(T) i² - (T - T_ambient) / R_th,   R(T) = R_20 (1 + α (T - 20 °C))
/// ```
///
/// `m` is the [`magnet_strength`](Self::magnet_strength). The armature's side in full, with a case as second body of heat,
/// resistance by angle and speed and faults, is that of [`Armature`]; here its fields are the motor's own.
///
/// A positive current turns it forward. States: `current`, `winding_temperature`, `case_temperature` (with a case),
/// `shaft_cosine` and `shaft_sine` (where the angle counts); probes: `speed`, `torque` (of the air gap), `back_emf`, `angle`
/// (where it counts).
///
/// It reverses with its current: swapping the motor wires, the signal wires, or supply and ground each reverse it, two of
/// them together do not ([`Motor::reverses_on`](super::Motor::reverses_on)).
///
/// Typical values: four measured 12 V motors of 53 to 134 A at stall have `R` 0.09 to 0.23 Ω, `K_e` 6 to 21 mV·s/rad and
/// `K_t / K_e` 0.86 to 1.01 (`tests/reference/motor_12V_curves.toml`).
///
/// Limits: no saturation, no cogging, no armature reaction; `α` is copper's (IEC 60028).
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
    /// Thermal resistance winding to case, or to ambient without a case, K/W; no cooling when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thermal_resistance: Option<ThermalResistance>,
    /// The case as a second body of heat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub case: Option<MotorCase>,
    /// Highest winding temperature allowed, °C, from the data sheet or the insulation class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_winding_temperature_c: Option<Temperature>,
    /// Share of the magnets' flux that is left: 1 when healthy, less when they are weak.
    #[serde(default = "whole", skip_serializing_if = "is_whole")]
    pub magnet_strength: Fraction,
    /// Resistance by angle and speed.
    #[serde(default, skip_serializing_if = "is_default")]
    pub variation: ResistanceVariation,
    /// Shaft angle at the start, rad; counts only with a dead spot or a resistance that varies by angle.
    #[serde(default, skip_serializing_if = "is_default")]
    pub start_angle: Angle,
    /// What is wrong with the armature.
    #[serde(default, skip_serializing_if = "is_default")]
    pub faults: ArmatureFaults,
}

fn whole() -> Fraction {
    Fraction::from_si(1.0)
}

fn is_whole(share: &Fraction) -> bool {
    *share == whole()
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

const PLUS: usize = 0;
const MINUS: usize = 1;
const SHAFT: usize = 2;
const TERMINALS: [Terminal; 3] = [electrical("plus"), electrical("minus"), shaft("shaft")];
/// The last only where the angle counts.
pub(super) const PROBES: [Probe; 4] = [
    Probe { name: "speed", unit: "rad/s" },
    Probe { name: "torque", unit: "N m" },
    Probe { name: "back_emf", unit: "V" },
    Probe { name: "angle", unit: "rad" },
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
            case: None,
            max_winding_temperature_c: None,
            magnet_strength: whole(),
            variation: ResistanceVariation::default(),
            start_angle: Angle::default(),
            faults: ArmatureFaults::default(),
        };
        motor.check()?;
        Ok(motor)
    }

    /// Back-EMF constant with healthy magnets, V·s/rad.
    pub fn back_emf(&self) -> f64 {
        self.back_emf_constant.unwrap_or(self.torque_constant).si()
    }

    /// Resistance of the healthy armature at a winding temperature, ohm.
    pub fn resistance_at(&self, temperature_c: f64) -> f64 {
        self.armature().resistance_at(temperature_c)
    }

    /// The armature.
    pub fn armature(&self) -> Armature {
        Armature {
            resistance: self.resistance,
            inductance: self.inductance,
            brush_drop: self.brush_drop,
            brush_current: self.brush_current,
            winding_temperature_c: self.winding_temperature_c,
            ambient_c: self.ambient_c,
            heat_capacity: self.heat_capacity,
            thermal_resistance: self.thermal_resistance,
            case: self.case,
            max_winding_temperature_c: self.max_winding_temperature_c,
            variation: self.variation,
            start_angle: self.start_angle,
            faults: self.faults,
        }
    }

    fn flux(&self) -> Flux {
        let strength = self.magnet_strength.si();
        Flux { ke: strength * self.back_emf(), kt: strength * self.torque_constant.si(), by: None }
    }
}

fn places(armature: &Armature) -> Places {
    armature.places(PLUS, MINUS, SHAFT, TERMINALS.len())
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
        not_negative("viscous_friction", self.viscous_friction)?;
        not_negative("friction", self.friction)?;
        not_negative("breakaway", self.breakaway)?;
        let strength = self.magnet_strength;
        in_range("magnet_strength", strength, strength.si() > 0.0 && strength.si() <= 1.0, "above 0, up to 1")?;
        self.armature().check()
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.armature().own_unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let armature = self.armature();
        armature.stamp(at, out, &places(&armature), &self.flux());
        let b = self.viscous_friction.si();
        out.f(SHAFT, b * at.x(SHAFT));
        out.df(SHAFT, SHAFT, b);
    }

    fn power(&self, at: &At) -> Power {
        let armature = self.armature();
        let omega = at.x(SHAFT);
        let friction = self.viscous_friction.si() * omega * omega;
        Power { delivered: 0.0, dissipated: armature.lost(at, &places(&armature), &self.flux()) + friction }
    }

    fn stored(&self, at: &At) -> f64 {
        let armature = self.armature();
        armature.field_energy(at, &places(&armature))
    }

    fn probes(&self) -> &[Probe] {
        if self.armature().by_angle() { &PROBES } else { &PROBES[..3] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        let armature = self.armature();
        let places = places(&armature);
        match index {
            0 => at.x(SHAFT),
            1 => armature.torque(at, &places, &self.flux()),
            2 => armature.emf(at, &places, &self.flux()),
            _ => armature.angle(at, &places),
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
