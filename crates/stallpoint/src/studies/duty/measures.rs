//! What is followed in the fast runs.

use crate::circuit::{Run, Signal};
use crate::drive::Direction;
use crate::error::Error;
use crate::parts::Coil;
use crate::parts::motor::COPPER;

type Weight = Box<dyn Fn(f64) -> f64 + Send + Sync>;

/// Signals with what is made of them before the mean is taken.
pub(super) struct Measures {
    list: Vec<(Signal, Weight)>,
    /// Signals whose square is followed, with their places.
    squares: Vec<(Signal, usize)>,
    /// Places of the two coils' heat and of what each kelvin takes off it.
    coils: [[usize; 2]; 2],
}

impl Measures {
    /// Place of the battery's current.
    pub(super) const BATTERY: usize = 0;

    /// Those of every drive: the battery's current and both coils' heat.
    pub(super) fn new() -> Self {
        let mut measures = Self { list: Vec::new(), squares: Vec::new(), coils: [[0; 2]; 2] };
        // Into plus counts as charging.
        measures.add(Signal::Current("battery".into()), |i| -i);
        // The square of the current at first; `heat_coils` knows the resistance.
        measures.coils = Direction::BOTH.map(|direction| {
            let state = Signal::State("contactor".into(), format!("coil_{}_current", direction.letter()));
            [measures.add(state.clone(), |i| i * i), measures.add(state, |i| i * i)]
        });
        measures
    }

    /// Adds one; returns its place.
    pub(super) fn add(&mut self, signal: Signal, weight: impl Fn(f64) -> f64 + Send + Sync + 'static) -> usize {
        self.list.push((signal, Box::new(weight)));
        self.list.len() - 1
    }

    /// Place of the square of a part's current.
    pub(super) fn square(&mut self, part: &str) -> usize {
        self.square_of(Signal::Current(part.into()))
    }

    /// Place of the square of a signal.
    pub(super) fn square_of(&mut self, signal: Signal) -> usize {
        match self.squares.iter().find(|(known, _)| *known == signal) {
            Some((_, place)) => *place,
            None => {
                let place = self.add(signal.clone(), |value| value * value);
                self.squares.push((signal, place));
                place
            }
        }
    }

    /// Makes heat of the squares of the coils' currents, for a coil that was at its temperature. It is fed with a constant
    /// voltage: `V² / R(T)`, straight around that temperature.
    pub(super) fn heat_coils(&self, coil: &Coil, means: &mut [f64]) {
        let t = coil.temperature_c.si();
        let resistance = coil.resistance_at(t);
        let by_kelvin = COPPER * coil.resistance.si() / resistance;
        for [heat, slope] in self.coils {
            means[slope] *= resistance * by_kelvin;
            means[heat] *= resistance * (1.0 + by_kelvin * t);
        }
    }

    /// Places of a coil's heat at 0 °C and of what each kelvin takes off it.
    pub(super) fn coil(&self, direction: Direction) -> [usize; 2] {
        self.coils[usize::from(direction == Direction::Reverse)]
    }

    /// Integral of each from the start of a run to each row.
    pub(super) fn sums(&self, run: &Run) -> Result<Vec<Vec<f64>>, Error> {
        self.list.iter().map(|(signal, weight)| run.accumulated(signal, weight)).collect()
    }
}
