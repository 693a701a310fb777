//! A unit as a factor and exponents of the base dimensions.

/// The zero point of a temperature scale, kept only while a unit is one bare temperature symbol.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Zero {
    Celsius,
    Kelvin,
    Fahrenheit,
}

/// `num / den * 10^exp10` in SI base units. Powers of ten are kept apart so that "25 mohm" is the float nearest to
/// 0.025, not the rounded product of 25 and 0.001; `num` and `den` are kept apart for the same reason.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Unit {
    pub num: f64,
    pub den: f64,
    pub exp10: i32,
    /// Exponents of m, kg, s, A, K.
    pub dims: [i8; 5],
    /// Exponent of the radian. It has no dimension, but it tells rad/s from Hz.
    pub angle: i8,
    pub zero: Option<Zero>,
}

impl Unit {
    /// The unit of a plain number.
    pub const ONE: Unit = Unit { num: 1.0, den: 1.0, exp10: 0, dims: [0; 5], angle: 0, zero: None };

    /// `self * other^power`; `None` where an exponent leaves any sensible range.
    pub fn times_power(self, other: &Unit, power: i8) -> Option<Unit> {
        let mut product = self;
        let magnitude = i32::from(power.unsigned_abs());
        let (up, down) = if power >= 0 { (other.num, other.den) } else { (other.den, other.num) };
        product.num *= up.powi(magnitude);
        product.den *= down.powi(magnitude);
        product.exp10 = self.exp10.checked_add(other.exp10.checked_mul(i32::from(power))?)?;
        for (mine, theirs) in product.dims.iter_mut().zip(other.dims) {
            *mine = mine.checked_add(theirs.checked_mul(power)?)?;
        }
        product.angle = self.angle.checked_add(other.angle.checked_mul(power)?)?;
        product.zero = None;
        Some(product)
    }
}
