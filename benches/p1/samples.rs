//! Samples of a run on the even grid, and its key scalars.

use stallpoint_solve::dense::{LOOKS, Step, turns};
use stallpoint_solve::{Flow, Observer};

use super::drive::Drive;
use super::unknowns::{IM, OM, VB, VK, VN};

/// Points of the even grid, and its end in seconds.
pub const POINTS: usize = 2000;
pub const END: f64 = 1.5;

/// Columns of the grid, in the order of the reference, and what their errors are divided by.
pub const COLUMNS: [(&str, f64); 4] =
    [("motor A", 183.0), ("speed rad/s", 166.0), ("coil V", 12.6), ("battery V", 12.6)];

/// Time of a grid point: the grid leaves out the start and holds the end.
pub fn time(point: usize) -> f64 {
    END * (point + 1) as f64 / POINTS as f64
}

/// Motor current, speed, coil voltage and battery voltage at every grid point.
#[derive(Debug, Clone)]
pub struct Samples {
    pub rows: Vec<[f64; 4]>,
    /// Largest motor current and when; lowest coil voltage between switching on and off.
    pub peak_current: (f64, f64),
    pub lowest_coil_voltage: f64,
    pub speed_at_1_s: f64,
    /// Whether the scalars are looked for.
    scalars: bool,
}

impl Samples {
    /// Room for the grid; the key scalars are looked for on demand, since a peer would not do so either.
    pub fn new(scalars: bool) -> Self {
        Self {
            rows: Vec::with_capacity(POINTS),
            peak_current: (f64::NEG_INFINITY, 0.0),
            lowest_coil_voltage: f64::INFINITY,
            speed_at_1_s: f64::NAN,
            scalars,
        }
    }

    fn look(&mut self, step: &Step) {
        let current = |theta: f64| step.value(IM, theta);
        for theta in turning(LOOKS.map(current)) {
            let value = current(theta);
            if value > self.peak_current.0 {
                self.peak_current = (value, step.time(theta));
            }
        }
        let coil = |theta: f64| step.value(VK, theta) - step.value(VN, theta);
        if step.t0 >= super::parameters::CONTROL_ON && step.t1 <= super::parameters::CONTROL_OFF {
            for theta in turning(LOOKS.map(coil)) {
                self.lowest_coil_voltage = self.lowest_coil_voltage.min(coil(theta));
            }
        }
        if step.t0 < 1.0 && step.t1 >= 1.0 {
            self.speed_at_1_s = step.value(OM, (1.0 - step.t0) / (step.t1 - step.t0));
        }
    }
}

impl Observer<Drive> for Samples {
    fn step(&mut self, _: &Drive, step: &Step) -> Flow {
        while self.rows.len() < POINTS && time(self.rows.len()) <= step.t1 {
            let theta = (time(self.rows.len()) - step.t0) / (step.t1 - step.t0);
            let at = |i: usize| step.value(i, theta);
            self.rows.push([at(IM), at(OM), at(VK) - at(VN), at(VB)]);
        }
        if self.scalars {
            self.look(step);
        }
        Flow::Continue
    }
}

/// Fractions of a step at which a function with these values at the looks may be largest or smallest.
fn turning(looks: [f64; 5]) -> impl Iterator<Item = f64> {
    LOOKS.into_iter().chain(turns(looks).map(|(theta, _)| theta))
}
