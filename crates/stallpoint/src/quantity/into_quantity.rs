//! What may be handed over as a quantity.

use super::error::QuantityError;
use std::fmt::Display;
use std::str::FromStr;

/// A quantity that reads from a number in its SI unit or from a text with a unit.
pub trait Quantity: Copy + Display + FromStr<Err = QuantityError> {
    /// What it is called in messages: "resistance".
    const NAME: &'static str;
    /// The unit a plain number is taken in: "ohm"; empty without one.
    const UNIT: &'static str;
    /// A text that is right: "25 mohm".
    const EXAMPLE: &'static str;

    /// The number in [`Self::UNIT`].
    fn si(self) -> f64;

    /// The quantity of a plain number in [`Self::UNIT`].
    ///
    /// # Errors
    /// Where the number is not finite or not in the kind's range.
    fn try_from_si(value: f64) -> Result<Self, QuantityError>;
}

/// Anything a constructor takes as a quantity `Q`: a number in the SI unit, a text with a unit, or a `Q`.
///
/// ```
/// use stallpoint::quantity::{IntoQuantity, Length};
/// let cable: Length = "24 ft".into_quantity()?;
/// assert_eq!(cable.si(), 7.3152);
/// # Ok::<(), stallpoint::quantity::QuantityError>(())
/// ```
pub trait IntoQuantity<Q> {
    /// Reads and checks the value.
    ///
    /// # Errors
    /// Where the text cannot be read, its unit is of another kind, or the number is not finite.
    fn into_quantity(self) -> Result<Q, QuantityError>;
}

impl<Q: Quantity> IntoQuantity<Q> for Q {
    fn into_quantity(self) -> Result<Q, QuantityError> {
        Ok(self)
    }
}

impl<Q: Quantity> IntoQuantity<Q> for f64 {
    fn into_quantity(self) -> Result<Q, QuantityError> {
        Q::try_from_si(self)
    }
}

impl<Q: Quantity> IntoQuantity<Q> for i32 {
    fn into_quantity(self) -> Result<Q, QuantityError> {
        Q::try_from_si(f64::from(self))
    }
}

impl<Q: Quantity> IntoQuantity<Q> for &str {
    fn into_quantity(self) -> Result<Q, QuantityError> {
        self.parse()
    }
}

impl<Q: Quantity> IntoQuantity<Q> for String {
    fn into_quantity(self) -> Result<Q, QuantityError> {
        self.parse()
    }
}
