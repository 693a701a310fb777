//! The kinds of quantity.

use super::convert;
use super::error::QuantityError;
use super::into_quantity::Quantity;
use super::kind::{Kind, PLAIN};
use super::serial;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt::{Display, Formatter};
use std::str::FromStr;

/// One newtype per kind: `Name "name", "unit", "example", [m kg s A K], radian exponent, flags;`.
macro_rules! quantities {
    ($($(#[$doc:meta])* $Q:ident $name:literal, $unit:literal, $example:literal, $dims:expr, $angle:literal $(, $flag:ident)*;)*) => {
        /// Every kind, in the order messages name them.
        pub(super) const KINDS: &[Kind] = &[$($Q::KIND),*];
        $($(#[$doc])*
        #[derive(Copy, Clone, Default, PartialEq, PartialOrd, Debug)]
        pub struct $Q(f64);
        impl $Q {
            pub(super) const KIND: Kind =
                Kind { name: $name, unit: $unit, example: $example, dims: $dims, angle: $angle, $($flag: true,)* ..PLAIN };
            /// What it is called in messages.
            pub const NAME: &'static str = $name;
            /// The unit of a plain number; empty without one.
            pub const UNIT: &'static str = $unit;
            /// The number in [`Self::UNIT`].
            pub const fn si(self) -> f64 { self.0 }
            /// From a number in [`Self::UNIT`], unchecked; foreign input goes through [`Quantity::try_from_si`].
            pub const fn from_si(value: f64) -> Self { Self(value) }
        }
        impl Quantity for $Q {
            const NAME: &'static str = $name;
            const UNIT: &'static str = $unit;
            const EXAMPLE: &'static str = $example;
            fn si(self) -> f64 { self.0 }
            fn try_from_si(value: f64) -> Result<Self, QuantityError> { convert::finite(value, &Self::KIND).map(Self) }
        }
        impl FromStr for $Q {
            type Err = QuantityError;
            fn from_str(text: &str) -> Result<Self, QuantityError> { convert::read(text, &Self::KIND, 0).map(Self) }
        }
        impl Display for $Q { fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result { serial::show(f, self.0, $unit) } }
        impl Serialize for $Q { fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> { serial::write(self, self.0, to) } }
        impl<'de> Deserialize<'de> for $Q { fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> { serial::read(from) } }
        impl JsonSchema for $Q {
            fn schema_name() -> std::borrow::Cow<'static, str> { stringify!($Q).into() }
            fn json_schema(_: &mut SchemaGenerator) -> Schema { serial::schema::<Self>() }
        })*
    };
}

quantities! {
    /// A voltage in V.
    Voltage "voltage", "V", "24 V", [2, 1, -3, -1, 0], 0;
    /// A current in A.
    Current "current", "A", "80 A", [0, 0, 0, 1, 0], 0;
    /// A resistance in ohm.
    Resistance "resistance", "ohm", "25 mohm", [2, 1, -3, -2, 0], 0;
    /// A Joule integral, the square of a current over time, in A²·s.
    JouleIntegral "Joule integral", "A2 s", "900 A2 s", [0, 0, 1, 2, 0], 0;
    /// A resistivity in ohm m.
    Resistivity "resistivity", "ohm m", "1.75e-8 ohm m", [3, 1, -3, -2, 0], 0;
    /// A conductance in S.
    Conductance "conductance", "S", "1 nS", [-2, -1, 3, 2, 0], 0;
    /// An inductance in H.
    Inductance "inductance", "H", "120 uH", [2, 1, -2, -2, 0], 0;
    /// A capacitance in F.
    Capacitance "capacitance", "F", "470 uF", [-2, -1, 4, 2, 0], 0;
    /// A flux linkage in Wb (V s).
    FluxLinkage "flux linkage", "Wb", "30 mWb", [2, 1, -2, -1, 0], 0;
    /// A power in W.
    Power "power", "W", "1.5 kW", [2, 1, -3, 0, 0], 0;
    /// A torque in N m.
    Torque "torque", "N m", "12 N m", [2, 1, -2, 0, 0], 0;
    /// An energy in J.
    Energy "energy", "J", "40 Wh", [2, 1, -2, 0, 0], 0;
    /// A charge in C; "100 Ah" is 360 000 C.
    Charge "charge", "C", "100 Ah", [0, 0, 1, 1, 0], 0;
    /// A time in s.
    Time "time", "s", "250 ms", [0, 0, 1, 0, 0], 0;
    /// A frequency in Hz; rad/s and rpm are an [`AngularSpeed`].
    Frequency "frequency", "Hz", "50 Hz", [0, 0, -1, 0, 0], 0;
    /// A length in m.
    Length "length", "m", "24 ft", [1, 0, 0, 0, 0], 0;
    /// An area in m².
    Area "area", "m2", "35 mm2", [2, 0, 0, 0, 0], 0;
    /// A volume in m³.
    Volume "volume", "m3", "8 cm3", [3, 0, 0, 0, 0], 0;
    /// A force in N.
    Force "force", "N", "2 kN", [1, 1, -2, 0, 0], 0;
    /// A pressure in Pa.
    Pressure "pressure", "Pa", "160 bar", [-1, 1, -2, 0, 0], 0;
    /// A mass in kg.
    Mass "mass", "kg", "3.5 kg", [0, 1, 0, 0, 0], 0;
    /// A motor's torque per ampere in N m/A, which is its back electromotive force in V s/rad.
    TorqueConstant "torque constant", "N m/A", "0.12 N m/A", [2, 1, -2, -1, 0], -1;
    /// A moment of inertia in kg m².
    Inertia "moment of inertia", "kg m2", "0.02 kg m2", [2, 1, 0, 0, 0], 0;
    /// An angular speed in rad/s; the radian or rpm must be written, "50 Hz" and "50 1/s" are refused.
    AngularSpeed "angular speed", "rad/s", "1800 rpm", [0, 0, -1, 0, 0], 1, angle_needed;
    /// A torque per angular speed in N m s/rad.
    AngularDamping "angular damping", "N m s/rad", "0.001 N m s/rad", [2, 1, -1, 0, 0], -1;
    /// A torque per angle in N m/rad; the radian must be written in a text.
    AngularStiffness "angular stiffness", "N m/rad", "50 N m/rad", [2, 1, -2, 0, 0], -1, angle_needed;
    /// A torque per squared angular speed in N m s²/rad².
    QuadraticDrag "quadratic drag", "N m s2/rad2", "2e-5 N m s2/rad2", [2, 1, 0, 0, 0], -2;
    /// A temperature; the number is in °C. Reads degC, °C, degF, °F and K.
    Temperature "temperature", "degC", "25 degC", [0, 0, 0, 0, 1], 0, absolute;
    /// A thermal resistance in K/W.
    ThermalResistance "thermal resistance", "K/W", "2.5 K/W", [-2, -1, 3, 0, 1], 0;
    /// A heat capacity in J/K.
    HeatCapacity "heat capacity", "J/K", "400 J/K", [2, 1, -2, 0, -1], 0;
    /// A number without a unit, or with "%".
    Fraction "fraction", "", "50 %", [0, 0, 0, 0, 0], 0;
    /// An angle in rad; the unit must be written in a text.
    Angle "angle", "rad", "30 deg", [0, 0, 0, 0, 0], 1, angle_needed;
}
