//! Seeded random numbers: the same on every machine.

/// A generator of 64 bits (splitmix64: G. L. Steele et al., OOPSLA 2014).
#[derive(Debug, Clone)]
pub(super) struct Random(u64);

impl Random {
    /// A generator of its own for a case, whatever the order in which cases are made.
    pub(super) fn of_case(seed: u64, case: u64) -> Self {
        let mut random = Self(seed ^ case.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        random.next();
        random
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly between 0 and 1.
    pub(super) fn even(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// Normal with mean 0 and deviation 1 (Box and Muller).
    pub(super) fn normal(&mut self) -> f64 {
        let (u, v) = (self.even(), self.even());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}
