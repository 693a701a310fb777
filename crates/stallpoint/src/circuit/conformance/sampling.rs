//! Random states of a part.

use super::super::local::{At, LocalEquations};
use super::super::memory::Memory;
use super::super::part::{Domain, Part, Unknown};
use super::ConformanceOptions;

/// The part's local frame: sizes and names.
pub(super) struct Frame {
    pub(super) terminals: usize,
    pub(super) size: usize,
    pub(super) unknowns: Vec<Unknown>,
    pub(super) names: Vec<&'static str>,
    /// A size of each local value below which it does not matter.
    pub(super) nominal: Vec<f64>,
    identity: Vec<u32>,
}

impl Frame {
    pub(super) fn new(part: &dyn Part) -> Self {
        let unknowns = part.unknowns();
        let terminals = part.terminals().len();
        let size = terminals + unknowns.len();
        let names = part.terminals().iter().map(|t| t.name).chain(unknowns.iter().map(|u| u.name)).collect();
        let nominal = std::iter::repeat_n(1.0, terminals).chain(unknowns.iter().map(|u| u.nominal)).collect();
        Self { terminals, size, unknowns, names, nominal, identity: (0..size as u32).collect() }
    }

    pub(super) fn at<'a>(&'a self, x: &'a [f64], memory: &'a Memory) -> At<'a> {
        At::alone(0.0, x, memory, &self.identity)
    }

    pub(super) fn equations(&self, part: &dyn Part, x: &[f64], memory: &Memory) -> LocalEquations {
        let mut own = LocalEquations::new(self.size);
        part.evaluate(&self.at(x, memory), &mut own.stamp());
        own
    }
}

/// Makes random states.
pub(super) struct Sampler {
    state: u64,
    /// Middle and half-width of each local value.
    ranges: Vec<(f64, f64)>,
    electrical: Vec<bool>,
    /// Values tried only from the middle up: below its surroundings a body would take in heat, which is nobody's loss.
    temperature: Vec<bool>,
}

impl Sampler {
    pub(super) fn new(part: &dyn Part, options: &ConformanceOptions) -> Self {
        let terminals = part.terminals().iter().map(|terminal| match terminal.domain {
            Domain::Electrical => (0.0, options.volts),
            Domain::Shaft => (0.0, options.speed),
        });
        let unknowns = part.unknowns();
        let temperature = unknowns.iter().map(|unknown| unknown.unit == "degC");
        let own = unknowns.iter().map(|unknown| (unknown.initial, options.own * unknown.nominal));
        Self {
            state: options.seed,
            ranges: terminals.chain(own).collect(),
            temperature: std::iter::repeat_n(false, part.terminals().len()).chain(temperature).collect(),
            electrical: part.terminals().iter().map(|terminal| terminal.domain == Domain::Electrical).collect(),
        }
    }

    /// A number from -1 to 1 (the mixer of G. L. Steele et al., OOPSLA 2014).
    fn unit(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    /// A state: values of all sizes, from the whole range down to a ten-thousandth.
    pub(super) fn state(&mut self) -> Vec<f64> {
        let common = 10_f64.powf(-2.0 + 2.0 * self.unit());
        (0..self.ranges.len())
            .map(|k| {
                let (middle, width) = self.ranges[k];
                let own =
                    if self.electrical.get(k) == Some(&true) { common } else { 10_f64.powf(-1.5 + 1.5 * self.unit()) };
                let away = width * own * self.unit();
                middle + if self.temperature[k] { away.abs() } else { away }
            })
            .collect()
    }
}
