//! Where everything of the detailed contactor lies beside what it shares with the quick one.

use super::super::super::Contact;
use super::super::layout::SITES;

/// Own unknowns of an armature after currents and coils: travel, speed, gap of the blade in flight, its speed.
const MOTION: usize = 15;
pub(super) const fn travel(armature: usize) -> usize {
    MOTION + 4 * armature
}
pub(super) const fn speed(armature: usize) -> usize {
    MOTION + 4 * armature + 1
}
pub(super) const fn flight(armature: usize) -> usize {
    MOTION + 4 * armature + 2
}
pub(super) const fn flight_speed(armature: usize) -> usize {
    MOTION + 4 * armature + 3
}
/// Accumulators of the last making: energy of its arcs, i²t while it bounced.
pub(super) const fn arc_energy(armature: usize) -> usize {
    MOTION + 8 + 2 * armature
}
pub(super) const fn bounce_i2t(armature: usize) -> usize {
    MOTION + 9 + 2 * armature
}
pub(super) const MOTION_NAMES: [[&str; 4]; 2] = [
    ["armature_a_travel", "armature_a_speed", "blade_a_flight", "blade_a_flight_speed"],
    ["armature_b_travel", "armature_b_speed", "blade_b_flight", "blade_b_flight_speed"],
];
pub(super) const MAKING_NAMES: [[&str; 2]; 2] =
    [["making_a_arc_energy", "making_a_bounce_i2t"], ["making_b_arc_energy", "making_b_bounce_i2t"]];

/// Numbers of an armature: what it does, what its blade does, on which side, when its touch ends, with which speed it then
/// leaves, when an operating point takes it across.
pub(super) const STATE: usize = 0;
pub(super) const BLADE: usize = 1;
pub(super) const SIDE: usize = 2;
pub(super) const TOUCH_ENDS: usize = 3;
pub(super) const LEAVES_WITH: usize = 4;
pub(super) const ACROSS_AT: usize = 5;
const NUMBERS: usize = 6;

pub(super) const REST: f64 = 0.0;
pub(super) const MOVING: f64 = 1.0;
pub(super) const SEALED: f64 = 2.0;

pub(super) const CARRIED: f64 = 0.0;
pub(super) const LIES: f64 = 1.0;
pub(super) const TOUCHES: f64 = 2.0;
pub(super) const FLIES: f64 = 3.0;

/// Sides of a blade, as the sign of the travel towards its contact.
pub(super) const WORKING: f64 = 1.0;
pub(super) const RESTING: f64 = -1.0;

pub(super) fn numbers(armature: usize) -> std::ops::Range<usize> {
    let first = SITES.len() * Contact::NUMBERS + armature * NUMBERS;
    first..first + NUMBERS
}

pub(super) const CONTACT_GUARDS: usize = SITES.len() * Contact::GUARDS.len();
/// Guards of an armature, in this order.
pub(super) const LEAVES_REST: usize = 0;
pub(super) const LEAVES_SEAL: usize = 1;
pub(super) const HITS_SEAL: usize = 2;
pub(super) const HITS_REST: usize = 3;
pub(super) const MEETS_WORKING: usize = 4;
pub(super) const MEETS_RESTING: usize = 5;
pub(super) const LANDS: usize = 6;
pub(super) const PICKED_UP: usize = 7;
pub(super) const ARMATURE_GUARDS: usize = 8;

pub(super) const GUARDS: [&str; CONTACT_GUARDS + 2 * ARMATURE_GUARDS] = [
    "arc goes out, supply to motor A",
    "arc strikes forward, supply to motor A",
    "arc strikes backward, supply to motor A",
    "arc goes out, ground to motor A",
    "arc strikes forward, ground to motor A",
    "arc strikes backward, ground to motor A",
    "arc goes out, supply to motor B",
    "arc strikes forward, supply to motor B",
    "arc strikes backward, supply to motor B",
    "arc goes out, ground to motor B",
    "arc strikes forward, ground to motor B",
    "arc strikes backward, ground to motor B",
    "armature A leaves its rest",
    "armature A leaves its seal",
    "armature A hits its seal",
    "armature A hits its rest",
    "blade A meets its working contact",
    "blade A meets its rest contact",
    "blade A lands",
    "blade A is picked up",
    "armature B leaves its rest",
    "armature B leaves its seal",
    "armature B hits its seal",
    "armature B hits its rest",
    "blade B meets its working contact",
    "blade B meets its rest contact",
    "blade B lands",
    "blade B is picked up",
];
