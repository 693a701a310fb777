//! Checks of arguments, and how a branch puts its current into the flows: what many parts share.

use crate::circuit::{At, Stamp};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity, Quantity};

/// Reads a quantity for a constructor, naming the argument in the error.
pub(crate) fn quantity<Q: Quantity>(argument: &str, value: impl IntoQuantity<Q>) -> Result<Q, Error> {
    value.into_quantity().map_err(|source| PartError::Quantity { argument: argument.into(), source }.into())
}

/// Refuses a quantity that is not finite and above zero.
pub(crate) fn above_zero<Q: Quantity>(argument: &str, value: Q) -> Result<(), PartError> {
    in_range(argument, value, value.si() > 0.0, &format!("above 0 {}", Q::UNIT))
}

/// Refuses a quantity that is not finite or below zero.
pub(crate) fn not_negative<Q: Quantity>(argument: &str, value: Q) -> Result<(), PartError> {
    in_range(argument, value, value.si() >= 0.0, &format!("0 {} or more", Q::UNIT))
}

/// Refuses a quantity for which `holds` is false or that is not finite.
pub(crate) fn in_range<Q: Quantity>(argument: &str, value: Q, holds: bool, allowed: &str) -> Result<(), PartError> {
    if holds && value.si().is_finite() { Ok(()) } else { Err(PartError::range(argument, value, allowed)) }
}

/// Refuses a share that is not from 0 to 1.
pub(crate) fn share(argument: &str, value: Fraction) -> Result<(), PartError> {
    let allowed = format!("between 0 and 1{}", per_cent(value.si()));
    in_range(argument, value, (0.0..=1.0).contains(&value.si()), &allowed)
}

/// What to add for a share that looks like per cent without their sign; a little above one is rather a slip of another kind.
pub(crate) fn per_cent(share: f64) -> String {
    if (5.0..=100.0).contains(&share) { format!("; \"{share} %\" perhaps?") } else { String::new() }
}

/// Adds the current of own unknown `i` as flow from local value `a` to `b`.
pub(crate) fn branch_current(at: &At, out: &mut Stamp, a: usize, b: usize, i: usize) {
    out.f(a, at.x(i));
    out.f(b, -at.x(i));
    out.df(a, i, 1.0);
    out.df(b, i, -1.0);
}
