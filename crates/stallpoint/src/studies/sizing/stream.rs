//! Reproducible streams of random numbers.

/// A stream of random numbers that depends on a seed and an index only: every case of a study has its own.
///
/// Source: the mixing function is that of G. L. Steele, D. Lea and C. H. Flood, Fast splittable pseudorandom number
/// generators, OOPSLA 2014 (constants from memory; the tests look at mean, variance and correlation).
///
/// # Example
/// ```
/// use stallpoint::studies::sizing::Stream;
///
/// let draw = |seed, index| Stream::new(seed, index).uniform();
/// assert_eq!(draw(1, 7), draw(1, 7));
/// assert_ne!(draw(1, 7), draw(1, 8));
/// ```
#[derive(Debug, Clone)]
pub struct Stream {
    state: u64,
}

const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

fn mix(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

impl Stream {
    /// The stream of case `index` under a seed.
    pub fn new(seed: u64, index: u64) -> Self {
        Self { state: mix(seed.wrapping_add(GOLDEN)) ^ mix(index.wrapping_mul(GOLDEN).wrapping_add(1)) }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(GOLDEN);
        mix(self.state)
    }

    /// Evenly from 0 up to but not 1.
    pub fn uniform(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Normally with mean 0 and deviation 1 (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}
