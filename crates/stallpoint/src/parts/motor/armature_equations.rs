//! The armature's equations, the same in every motor.

use super::armature::{Armature, COPPER};
use crate::circuit::{At, Pace, Stamp, Unknown};

/// Local indices of an armature's terminals and unknowns.
#[derive(Debug, Clone, Copy)]
pub(super) struct Places {
    pub(super) plus: usize,
    pub(super) minus: usize,
    pub(super) shaft: usize,
    pub(super) current: usize,
    pub(super) temperature: usize,
    /// Present only with a case.
    case: Option<usize>,
    /// Cosine and sine of the shaft's angle, present only when it counts.
    angle: Option<(usize, usize)>,
    /// The first index after its unknowns.
    pub(super) end: usize,
}

/// What the field gives the armature: back-EMF and torque constants, and the unknown that sets them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flux {
    pub(super) ke: f64,
    pub(super) kt: f64,
    /// The unknown's index and the slope of both constants by it; none with magnets.
    pub(super) by: Option<(usize, f64)>,
}

/// A resistance with its derivatives by temperature, speed, cosine and sine of the angle.
struct Ohms {
    /// In the winding.
    copper: f64,
    by_temperature: f64,
    by_speed: f64,
    by_angle: (f64, f64),
    /// In brushes and commutator.
    brushes: f64,
    brushes_by_angle: (f64, f64),
}

/// How fast cosine and sine of the shaft's angle are drawn back to the unit circle, 1/s; the solution never leaves it.
const TO_CIRCLE: f64 = 100.0;

impl Armature {
    /// Its places when its unknowns begin at `first`.
    pub(super) fn places(&self, plus: usize, minus: usize, shaft: usize, first: usize) -> Places {
        let mut end = first + 2;
        let case = self.case.map(|_| {
            end += 1;
            end - 1
        });
        let angle = self.by_angle().then(|| {
            end += 2;
            (end - 2, end - 1)
        });
        Places { plus, minus, shaft, current: first, temperature: first + 1, case, angle, end }
    }

    /// Its unknowns in the order of [`Places`].
    pub(super) fn own_unknowns(&self) -> Vec<Unknown> {
        let mut winding = Unknown::slow("winding_temperature", "degC", 10.0, self.winding_temperature_c.si());
        if self.heat_capacity.is_none() || self.thermal_resistance.is_none() {
            winding.pace = Pace::Accumulator; // it never warms, or warms for ever: no equilibrium to seek
        }
        let mut own = vec![Unknown::fast("current", "A", 1.0), winding];
        if let Some(case) = self.case {
            own.push(Unknown::slow("case_temperature", "degC", 10.0, case.temperature_c.si()));
        }
        if self.by_angle() {
            let (sine, cosine) = self.start_angle.si().sin_cos();
            own.push(Unknown::accumulator("shaft_cosine", 1.0, cosine));
            own.push(Unknown::accumulator("shaft_sine", 1.0, sine));
        }
        own
    }

    /// Brush drop and its derivative at a current.
    fn brush(&self, i: f64) -> (f64, f64) {
        let th = (i / self.brush_current.si()).tanh();
        let drop = self.total_brush_drop();
        (drop * th, drop / self.brush_current.si() * (1.0 - th * th))
    }

    fn ohms(&self, at: &At, places: &Places) -> Ohms {
        let left = self.faults.turns_left();
        let cold = self.resistance_at(at.x(places.temperature)) * left;
        let (turning, turning_slope) = self.variation.at_speed(at.x(places.shaft));
        let mut ohms = Ohms {
            copper: cold * turning,
            by_temperature: self.resistance.si() * COPPER * left * turning,
            by_speed: cold * turning_slope,
            by_angle: (0.0, 0.0),
            brushes: self.faults.series_resistance(),
            brushes_by_angle: (0.0, 0.0),
        };
        if let Some((cosine, sine)) = places.angle {
            let (c, s) = (at.x(cosine), at.x(sine));
            let angle = s.atan2(c);
            let circle = (c * c + s * s).max(1e-12);
            let along = (-s / circle, c / circle); // dθ/dc, dθ/ds
            let (factor, slope) = self.variation.at_angle(angle);
            ohms.by_angle = (ohms.copper * slope * along.0, ohms.copper * slope * along.1);
            ohms.copper *= factor;
            ohms.by_temperature *= factor;
            ohms.by_speed *= factor;
            if let Some((extra, slope)) = self.faults.dead_spot.map(|spot| spot.at(angle)) {
                ohms.brushes += extra;
                ohms.brushes_by_angle = (slope * along.0, slope * along.1);
            }
        }
        ohms
    }

    /// What is left of the field's constants with shorted turns.
    fn seen(&self, flux: &Flux) -> Flux {
        let left = self.faults.turns_left();
        Flux { ke: flux.ke * left, kt: flux.kt * left, by: flux.by.map(|(at, slope)| (at, slope * left)) }
    }

    /// Braking by shorted turns, N·m·s/rad, with its derivatives by temperature and by the field's unknown.
    fn braking(&self, at: &At, places: &Places, flux: &Flux) -> (f64, f64, f64) {
        let share = self.faults.braking();
        let resistance = self.resistance_at(at.x(places.temperature));
        let braking = share * flux.ke * flux.ke / resistance;
        let by_field = flux.by.map_or(0.0, |(_, slope)| share * 2.0 * flux.ke * slope / resistance);
        (braking, -braking * self.resistance.si() * COPPER / resistance, by_field)
    }

    /// Air-gap torque of the current, N·m.
    pub(super) fn torque(&self, at: &At, places: &Places, flux: &Flux) -> f64 {
        self.seen(flux).kt * at.x(places.current)
    }

    /// Back-EMF, V.
    pub(super) fn emf(&self, at: &At, places: &Places, flux: &Flux) -> f64 {
        self.seen(flux).ke * at.x(places.shaft)
    }

    /// Adds the armature's equations.
    pub(super) fn stamp(&self, at: &At, out: &mut Stamp, places: &Places, flux: &Flux) {
        let Places { plus, minus, shaft, current, temperature, .. } = *places;
        let (i, omega, t) = (at.x(current), at.x(shaft), at.x(temperature));
        let left = self.faults.turns_left();
        let l = self.inductance.si() * left * left;
        let seen = self.seen(flux);
        let ohms = self.ohms(at, places);
        let (brush, brush_slope) = self.brush(i);
        crate::parts::branch_current(at, out, plus, minus, current);

        let r = ohms.copper + ohms.brushes;
        out.q(current, l * i);
        out.dq(current, current, l);
        out.f(current, r * i + brush + seen.ke * omega - at.x(plus) + at.x(minus));
        out.df(current, current, r + brush_slope);
        out.df(current, shaft, seen.ke + ohms.by_speed * i);
        out.df(current, temperature, ohms.by_temperature * i);
        out.df(current, plus, -1.0);
        out.df(current, minus, 1.0);

        let (braking, braking_by_t, braking_by_field) = self.braking(at, places, flux);
        out.f(shaft, braking * omega - seen.kt * i);
        out.df(shaft, shaft, braking);
        out.df(shaft, current, -seen.kt);
        out.df(shaft, temperature, braking_by_t * omega);
        if let Some((field, slope)) = seen.by {
            out.df(current, field, slope * omega);
            out.df(shaft, field, braking_by_field * omega - slope * i);
        }

        // Without a heat capacity the temperature stays where it is: its rate is zero.
        let (capacity, heating) = self.heat_capacity.map_or((1.0, 0.0), |c| (c.si(), 1.0));
        let conductance = self.thermal_resistance.map_or(0.0, |r| 1.0 / r.si());
        let outside = places.case.map_or(self.ambient_c.si(), |case| at.x(case));
        out.q(temperature, capacity * t);
        out.dq(temperature, temperature, capacity);
        out.f(temperature, heating * ((t - outside) * conductance - ohms.copper * i * i - braking * omega * omega));
        let copper_slope = ohms.by_temperature * i * i + braking_by_t * omega * omega;
        out.df(temperature, temperature, heating * (conductance - copper_slope));
        out.df(temperature, current, -heating * 2.0 * ohms.copper * i);
        out.df(temperature, shaft, -heating * (ohms.by_speed * i * i + 2.0 * braking * omega));
        if let Some((field, _)) = seen.by {
            out.df(temperature, field, -heating * braking_by_field * omega * omega);
        }

        if let (Some(case), Some(body)) = (places.case, self.case) {
            let tc = at.x(case);
            let to_ambient = 1.0 / body.thermal_resistance.si();
            out.df(temperature, case, -heating * conductance);
            out.q(case, body.heat_capacity.si() * tc);
            out.dq(case, case, body.heat_capacity.si());
            let brush_heat = ohms.brushes * i * i + brush * i;
            out.f(case, (tc - self.ambient_c.si()) * to_ambient - (t - tc) * conductance - brush_heat);
            out.df(case, case, to_ambient + conductance);
            out.df(case, temperature, -conductance);
            out.df(case, current, -(2.0 * ohms.brushes * i + brush + brush_slope * i));
        }

        if let Some((cosine, sine)) = places.angle {
            let (c, s) = (at.x(cosine), at.x(sine));
            let off = 1.0 - c * c - s * s;
            for (row, own, other, sign) in [(cosine, c, s, 1.0), (sine, s, c, -1.0)] {
                let column = if row == cosine { sine } else { cosine };
                out.q(row, own);
                out.dq(row, row, 1.0);
                out.f(row, sign * omega * other - TO_CIRCLE * off * own);
                out.df(row, row, TO_CIRCLE * (2.0 * own * own - off));
                out.df(row, column, sign * omega + TO_CIRCLE * 2.0 * other * own);
                out.df(row, shaft, sign * other);
            }
            let (by_c, by_s) = ohms.by_angle;
            let (brush_c, brush_s) = ohms.brushes_by_angle;
            for (column, copper, brushes) in [(cosine, by_c, brush_c), (sine, by_s, brush_s)] {
                out.df(current, column, (copper + brushes) * i);
                out.df(temperature, column, -heating * copper * i * i);
                if let Some(case) = places.case {
                    out.df(case, column, -brushes * i * i);
                }
            }
        }
    }

    /// Heat of winding and brushes, and work lost where the constants differ, W.
    pub(super) fn lost(&self, at: &At, places: &Places, flux: &Flux) -> f64 {
        let (i, omega) = (at.x(places.current), at.x(places.shaft));
        let ohms = self.ohms(at, places);
        let seen = self.seen(flux);
        let unequal = (seen.ke - seen.kt) * omega * i;
        let heat = (ohms.copper + ohms.brushes) * i * i + self.brush(i).0 * i;
        heat + unequal + self.braking(at, places, flux).0 * omega * omega
    }

    /// Heat at a current and a speed, W: in the winding as if it were at 20 °C, and at the brushes. Meant over a turn; without
    /// the braking of shorted turns.
    pub(crate) fn heat(&self, current: f64, speed: f64) -> (f64, f64) {
        let turning = self.variation.at_speed(speed).0;
        let copper = self.resistance.si() * self.faults.turns_left() * turning;
        let brushes = self.faults.series_resistance() * current * current + self.brush(current).0 * current;
        (copper * current * current, brushes)
    }

    /// Energy of its field, J.
    pub(super) fn field_energy(&self, at: &At, places: &Places) -> f64 {
        let left = self.faults.turns_left();
        0.5 * (self.inductance.si() * left * left) * at.x(places.current) * at.x(places.current)
    }

    /// Shaft angle, rad from -π to π; not a number when it does not count.
    pub(super) fn angle(&self, at: &At, places: &Places) -> f64 {
        places.angle.map_or(f64::NAN, |(cosine, sine)| at.x(sine).atan2(at.x(cosine)))
    }
}
