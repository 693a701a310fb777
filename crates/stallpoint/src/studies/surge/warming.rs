//! The stalled winding warms, its current falls, and the breaker counts what is left of it.

use crate::drive::Drive;

/// Currents of the stalled drive at two winding temperatures. Between and beyond them `1/i` is linear in the temperature,
/// as Ohm's law has it: the winding's resistance is, and nothing else in the loop changes.
pub(super) struct FallingCurrent {
    /// Winding temperature and current, °C and A.
    pub(super) cold: (f64, f64),
    /// The same, warmer.
    pub(super) warm: (f64, f64),
}

impl FallingCurrent {
    fn at(&self, temperature: f64) -> f64 {
        let share = (temperature - self.cold.0) / (self.warm.0 - self.cold.0);
        1.0 / (1.0 / self.cold.1 + share * (1.0 / self.warm.1 - 1.0 / self.cold.1))
    }
}

/// When what happens in a stall that is held.
pub(super) struct Warming {
    /// Time until the fastest and the slowest device of the band open, s; none where it never does.
    pub(super) trips_after: [Option<f64>; 2],
    /// Time until the winding is at its limit, s; infinite when it never is.
    pub(super) winding_limit_after: f64,
}

/// Steps of temperature from the start to the limit; as many times further the winding is followed beyond it.
const STEPS: u32 = 2_000;
const BEYOND: u32 = 3;

/// Follows a stall from the winding's start temperature, the currents of motor and breaker falling as it warms.
///
/// ```text
/// C dT/dt = R(T) i² - (T - T_a) / R_th,   dA/dt = 1 / t(i) on each edge of the trip band
/// ```
///
/// Returns none when the motor's `heat_capacity` or `max_winding_temperature_c` is missing.
///
/// Limits: one body; the battery does not sag further and the cables stay as warm as they are.
pub(super) fn warming(
    drive: &Drive,
    motor_current: &FallingCurrent,
    breaker_current: &FallingCurrent,
) -> Option<Warming> {
    let motor = drive.motor.armature();
    let (capacity, limit) = (motor.heat_capacity?.si(), motor.max_winding_temperature_c?.si());
    let start = motor.winding_temperature_c.si();
    let device = drive.protection();
    let trip_time = |edge: usize, temperature: f64| device.trip_time(edge as f64, breaker_current.at(temperature));
    let mut counted = [0.0_f64; 2];
    let mut found = Warming { trips_after: [None; 2], winding_limit_after: f64::INFINITY };
    let (mut t, mut temperature) = (0.0, start);
    let step = ((limit - start) / f64::from(STEPS)).max(0.01);
    for _ in 0..STEPS * (1 + BEYOND) {
        if temperature >= limit - 1e-9 * step && found.winding_limit_after.is_infinite() {
            found.winding_limit_after = t;
        }
        let middle = temperature + 0.5 * step;
        let current = motor_current.at(middle);
        let cooling = motor.thermal_resistance.map_or(0.0, |r| (middle - motor.ambient_c.si()) / r.si());
        let rate = (motor.resistance_at(middle) * current * current - cooling) / capacity;
        if rate <= 0.0 {
            break; // as warm as it gets
        }
        let lasts = step / rate;
        for edge in 0..2 {
            if found.trips_after[edge].is_some() {
                continue;
            }
            let Some(time) = trip_time(edge, middle) else { continue };
            let before = counted[edge];
            counted[edge] += lasts / time;
            if counted[edge] >= 1.0 {
                found.trips_after[edge] = Some(t + (1.0 - before) * time);
            }
        }
        t += lasts;
        temperature += step;
        if found.winding_limit_after.is_finite() && found.trips_after.iter().all(Option::is_some) {
            break; // there is no more to find
        }
    }
    for edge in 0..2 {
        let rest = || trip_time(edge, temperature).map(|time| t + (1.0 - counted[edge]) * time);
        found.trips_after[edge] = found.trips_after[edge].or_else(rest);
    }
    Some(found)
}
