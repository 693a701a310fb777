//! Rounding errors followed through an elimination, so that what is left of a pivot can be told from them.
//!
//! Each number carries four samples of the error it may have: every rounding, that of the given values included, adds a
//! random error of its size, and every operation passes on those of its operands to first order, **with their signs**.
//! A bound, or a variance as if errors were independent, would grow exponentially through a dense corner of a few
//! hundred pivots, where the errors in truth cancel: it called regular matrices singular.
//! Own method; the idea of sampling roundings is Monte Carlo arithmetic (Parker 1997, from memory).

/// Four samples of the error of one number.
pub(super) type Noise = [f64; 4];

/// Source of random roundings; the same sequence every time.
#[derive(Debug, Clone)]
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new() -> Self {
        // Any odd number serves (the golden ratio's digits).
        Self(0x9e37_79b9_7f4a_7c15)
    }

    /// Random roundings of a number: a unit of its last place in the root mean square, where true ones have 0.29 at most.
    pub(super) fn rounding(&mut self, value: f64) -> Noise {
        // Xorshift (Marsaglia 2003), sixteen bits for each sample.
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        // An even spread over ±1 has a root mean square of 1/√3.
        let unit = f64::EPSILON * 1.732_050_807_568_877_2 / 32768.0 * value;
        let bits = self.0;
        [0, 16, 32, 48].map(|shift| f64::from((bits >> shift) as i16) * unit)
    }
}

/// Whether a value stands clear of its noise and of the bottom of the number range.
///
/// Three estimated deviations are ten true ones, which leaves room for the luck of four samples.
pub(super) fn clear(value: f64, noise: &Noise) -> bool {
    let mean_square = noise.iter().map(|error| error * error).sum::<f64>() / 4.0;
    value.abs() > 1e-200 && value * value > 9.0 * mean_square
}

/// Error of `l = a / p`.
pub(super) fn quotient(a: &Noise, l: f64, p: &Noise, inverse: f64) -> Noise {
    std::array::from_fn(|k| (a[k] - l * p[k]) * inverse)
}

/// Takes the errors of `l u` and two new roundings, of the product and of the difference, from those of the target.
pub(super) fn update(
    target: &mut Noise,
    value: f64,
    (l, l_noise): (f64, &Noise),
    (u, u_noise): (f64, &Noise),
    dice: &mut Dice,
) {
    let fresh = dice.rounding(value.abs().max((l * u).abs()));
    for k in 0..4 {
        target[k] += fresh[k] - (l * u_noise[k] + u * l_noise[k]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_errors_that_cancel_do_not_add() {
        // a - (a/p) p with the error of `a` alone: it passes through the quotient and comes back.
        let a = [1e-16, -2e-16, 3e-16, 0.5e-16];
        let zero = [0.0; 4];
        let l = quotient(&a, 3.0, &zero, 1.0);
        let mut target = a;
        for k in 0..4 {
            target[k] -= l[k];
        }
        assert_eq!(target, zero);
    }

    #[test]
    fn exact_roundings_have_unit_size() {
        let mut dice = Dice::new();
        let n = 10_000;
        let sum: f64 = (0..n).map(|_| dice.rounding(2.0).iter().map(|e| e * e).sum::<f64>()).sum();
        let unit = (sum / f64::from(4 * n)).sqrt() / (2.0 * f64::EPSILON);
        assert!((unit - 1.0).abs() < 0.02, "{unit}");
    }
}
