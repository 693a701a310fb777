//! Volts along the loop of a healthy and a faulty drive.

use crate::drive::{Direction, Drive, StartOptions};
use crate::error::Error;

/// Points along the loop of a drive with a breaker, from battery positive round to battery negative.
const LOOP: [&str; 12] = [
    "battery_positive",
    "isolator_in",
    "isolator_out",
    "breaker_in",
    "breaker_out",
    "supply_stud_lug",
    "supply_stud",
    "motor_a_stud",
    "motor_b_stud",
    "ground_stud",
    "ground_stud_lug",
    "battery_negative",
];

/// Volts along the loop, to battery negative, of two drives in three states.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Names of the points.
    pub points: Vec<String>,
    /// Names of the states: at rest, at the surge peak, at the end of the hold.
    pub moments: [&'static str; 3],
    /// Volts of the healthy drive, by state and point.
    pub healthy: [Vec<f64>; 3],
    /// Volts of the faulty drive.
    pub faulty: [Vec<f64>; 3],
}

/// Compares the volts along the loop: with the control at rest, at the largest current of a start, and at the end of a hold of
/// 2 s, running or stalled.
///
/// # Errors
/// A description that cannot be a drive; a start that cannot be solved.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Direction, Drive, Fault};
/// use stallpoint::studies::faultfinding::compare;
///
/// let healthy = Drive::from_toml_str(BOAT_LIFT)?;
/// let faulty = healthy.with_fault(&Fault::joint("ground_stud_joint", "0.13 ohm")?)?;
/// let compared = compare(&healthy, &faulty, Direction::Forward)?;
/// let stud = compared.points.iter().position(|point| point == "ground_stud").unwrap();
/// assert!(compared.faulty[0][stud].abs() < 1e-3); // nothing to see at rest
/// assert!(compared.faulty[2][stud] > 5.0); // five volts on "ground" with the motor stalled
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn compare(healthy: &Drive, faulty: &Drive, direction: Direction) -> Result<Comparison, Error> {
    Ok(Comparison {
        points: points(healthy).to_vec(),
        moments: ["at rest", "surge peak", "held 2 s"],
        healthy: volts(healthy, direction)?,
        faulty: volts(faulty, direction)?,
    })
}

fn points(drive: &Drive) -> [String; LOOP.len()] {
    LOOP.map(|point| drive.own_name(point))
}

fn volts(drive: &Drive, direction: Direction) -> Result<[Vec<f64>; 3], Error> {
    let rest = drive.operating_point(None, &Default::default())?;
    let start = drive.start(direction, &StartOptions::hold(2.0)?)?;
    let sampled = start.sample(&[start.surge.time_of_peak, 2.0])?;
    let points = points(drive);
    let at_rest = points.iter().map(|point| rest.voltage(point)).collect::<Result<_, _>>()?;
    let rows = points.iter().map(|point| sampled.voltage(point)).collect::<Result<Vec<_>, _>>()?;
    Ok([at_rest, rows.iter().map(|v| v[0]).collect(), rows.iter().map(|v| v[1]).collect()])
}
