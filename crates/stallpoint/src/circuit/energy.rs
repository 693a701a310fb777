//! Where the energy of a run went.

use stallpoint_solve::Step;

use super::assembly::Assembly;

/// Fractions of a step and weights of the Gauss rule with three points, by which rates are integrated over the dense output.
pub(crate) const GAUSS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_31, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];

/// Energy of one part over a run, J.
#[derive(Debug, Clone, PartialEq)]
pub struct PartEnergy {
    /// The part.
    pub part: String,
    /// Brought into the circuit from outside (negative: taken out).
    pub delivered: f64,
    /// Turned into heat or lost work.
    pub dissipated: f64,
    /// Increase of the energy stored in its fields, masses and motion.
    pub stored: f64,
    /// Stored energy that a declared reset removed at an instant.
    pub lost_at_jumps: f64,
}

/// Energy of every part over a run, and what does not add up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct EnergyAccount {
    /// One entry a part, shafts among them.
    pub parts: Vec<PartEnergy>,
}

impl EnergyAccount {
    /// Energy brought in, J: the sum of all parts that delivered.
    pub fn delivered(&self) -> f64 {
        self.parts.iter().map(|part| part.delivered).filter(|energy| *energy > 0.0).sum()
    }

    /// Delivered less dissipated less stored, J: zero but for the error of the run.
    pub fn residual(&self) -> f64 {
        self.parts.iter().map(|part| part.delivered - part.dissipated - part.stored - part.lost_at_jumps).sum()
    }

    /// The entry of a part.
    pub fn part(&self, name: &str) -> Option<&PartEnergy> {
        self.parts.iter().find(|part| part.part == name)
    }
}

/// Keeps the account while a run is made.
pub(crate) struct Bookkeeper {
    account: EnergyAccount,
    stored: Vec<f64>,
    /// Scratch for the unknowns within a step.
    x: Vec<f64>,
}

impl Bookkeeper {
    pub(crate) fn begin(assembly: &Assembly, t: f64, x: &[f64]) -> Self {
        let parts = assembly.layout.instances.iter().map(|instance| PartEnergy {
            part: instance.name.clone(),
            delivered: 0.0,
            dissipated: 0.0,
            stored: 0.0,
            lost_at_jumps: 0.0,
        });
        let stored = vec![0.0; assembly.layout.instances.len()];
        let account = EnergyAccount { parts: parts.collect() };
        let mut keeper = Self { account, stored, x: x.to_vec() };
        keeper.measure(assembly, t, x, |_, _| {});
        keeper
    }

    pub(crate) fn step(&mut self, assembly: &Assembly, step: &Step) {
        let h = step.t1 - step.t0;
        for (theta, weight) in GAUSS {
            step.sample(theta, &mut self.x);
            let t = step.time(theta);
            let parts = assembly.layout.instances.iter().zip(&assembly.memories);
            for ((instance, memory), entry) in parts.zip(&mut self.account.parts) {
                let power = instance.part.power(&instance.at(t, &self.x, memory));
                entry.delivered += h * weight * power.delivered;
                entry.dissipated += h * weight * power.dissipated;
            }
        }
        self.measure(assembly, step.t1, step.x1, |entry, gain| entry.stored += gain);
    }

    pub(crate) fn jump(&mut self, assembly: &Assembly, t: f64, x: &[f64]) {
        self.measure(assembly, t, x, |entry, gain| {
            entry.stored += gain;
            entry.lost_at_jumps -= gain;
        });
    }

    pub(crate) fn close(self) -> EnergyAccount {
        self.account
    }

    fn measure(&mut self, assembly: &Assembly, t: f64, x: &[f64], mut book: impl FnMut(&mut PartEnergy, f64)) {
        for (k, (instance, memory)) in assembly.layout.instances.iter().zip(&assembly.memories).enumerate() {
            let stored = instance.part.stored(&instance.at(t, x, memory));
            book(&mut self.account.parts[k], stored - self.stored[k]);
            self.stored[k] = stored;
        }
    }
}
