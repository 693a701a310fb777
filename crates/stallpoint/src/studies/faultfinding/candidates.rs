//! The measurements that common practice makes on a drive.

use super::measurement::{Measurement, Tool};
use super::position::Held;
use crate::drive::Drive;

/// Pairs read with the control held and at rest, in the order of common practice: supply, ground, signals, contactor, motor.
const HELD_PAIRS: [(&str, &str); 29] = [
    ("battery_positive", "battery_negative"),
    ("isolator_in", "isolator_out"),
    ("breaker_in", "breaker_out"),
    ("breaker_out", "battery_negative"),
    ("breaker_out_lug", "supply_stud_lug"),
    ("supply_stud", "ground_stud"),
    ("supply_stud", "case"),
    ("supply_stud", "battery_negative"),
    ("ground_stud", "battery_negative"),
    ("ground_stud", "case"),
    ("ground_stud_lug", "battery_negative_lug"),
    ("case", "battery_negative"),
    ("control_supply", "battery_negative"),
    ("control_supply", "control_out_a"),
    ("control_supply", "control_out_b"),
    ("control_out_a", "coil_a_lug"),
    ("control_out_b", "coil_b_lug"),
    ("coil_a_lug", "coil_return"),
    ("coil_b_lug", "coil_return"),
    ("coil_a", "coil_return"),
    ("coil_b", "coil_return"),
    ("coil_a", "ground_stud"),
    ("coil_return", "ground_stud"),
    ("coil_return", "battery_negative"),
    ("supply_stud", "motor_a_stud"),
    ("supply_stud", "motor_b_stud"),
    ("motor_a_stud", "ground_stud"),
    ("motor_b_stud", "ground_stud"),
    ("motor_a_stud", "motor_b_stud"),
];

/// The other cables, by the ends of each, and across the motor.
const CABLE_PAIRS: [(&str, &str); 5] = [
    ("battery_positive_lug", "isolator_in_lug"),
    ("isolator_out_lug", "breaker_in_lug"),
    ("motor_a_stud_lug", "motor_a_lug"),
    ("motor_b_stud_lug", "motor_b_lug"),
    ("motor_a", "motor_b"),
];

/// Pairs read at rest.
const REST_PAIRS: [(&str, &str); 12] = [
    ("battery_positive", "battery_negative"),
    ("breaker_out", "battery_negative"),
    ("supply_stud", "ground_stud"),
    ("supply_stud", "case"),
    ("control_supply", "battery_negative"),
    ("coil_a_lug", "coil_return"),
    ("coil_b_lug", "coil_return"),
    ("coil_a", "ground_stud"),
    ("coil_return", "ground_stud"),
    ("motor_a_stud", "ground_stud"),
    ("motor_b_stud", "ground_stud"),
    ("motor_a_stud", "case"),
];

/// Pairs for a lamp or a low-impedance meter: what loads shows what a voltmeter does not.
const LOADED: [(&str, &str); 5] = [
    ("supply_stud", "ground_stud"),
    ("control_supply", "battery_negative"),
    ("coil_a_lug", "coil_return"),
    ("coil_b_lug", "coil_return"),
    ("coil_a", "ground_stud"),
];

/// Pairs for an ohmmeter.
const DEAD: [(&str, &str); 7] = [
    ("coil_a", "coil_return"),
    ("coil_b", "coil_return"),
    ("motor_a_stud", "motor_b_stud"),
    ("motor_a_stud", "case"),
    ("ground_stud", "battery_negative"),
    ("coil_return", "battery_negative"),
    ("case", "battery_negative"),
];

/// Measurements for a drive, those of the look first, then in the order of common practice.
pub(super) fn candidates(drive: &Drive) -> Vec<Measurement> {
    let held = [Held::Forward, Held::Reverse];
    let mut list = Vec::new();
    for held in held {
        list.extend([Tool::WatchMotor, Tool::Listen].map(|tool| Measurement::look(tool, held)));
        // Nobody holds a stalled motor to see a fuse blow.
        if drive.protection().fuse().is_none() {
            list.push(Measurement::look(Tool::WatchBreaker, held));
        }
    }
    list.push(Measurement::look(Tool::WatchMotor, Held::AtRest));
    let mut volts = |held: Held, pairs: &[(&str, &str)]| {
        list.extend(pairs.iter().map(|(plus, minus)| {
            Measurement::between(Tool::Voltmeter, held, &drive.own_name(plus), &drive.own_name(minus))
        }));
    };
    volts(Held::AtRest, &REST_PAIRS);
    let joints: Vec<(String, String)> = drive
        .joint_names()
        .iter()
        .filter(|name| **name != "case_joint")
        .map(|name| name.trim_end_matches("_joint"))
        .map(|point| (point.to_string(), format!("{point}_lug")))
        .collect();
    let joints: Vec<(&str, &str)> = joints.iter().map(|(stud, lug)| (stud.as_str(), lug.as_str())).collect();
    for held in held {
        volts(held, &HELD_PAIRS);
        volts(held, &CABLE_PAIRS);
        volts(held, &joints);
    }
    for held in [Held::AtRest, Held::Forward, Held::Reverse] {
        for tool in [Tool::LowImpedance, Tool::TestLamp] {
            list.extend(LOADED.iter().map(|(plus, minus)| Measurement::between(tool, held, plus, minus)));
        }
        list.push(Measurement::between(Tool::Clamp, held, drive.protection().name(), ""));
    }
    for held in held {
        list.push(Measurement::between(Tool::Clamp, held, "motor_lead_a", ""));
        list.push(Measurement::between(Tool::Clamp, held, "coil_return_wire", ""));
        list.push(Measurement::between(Tool::Clamp, held, "control_supply_wire", ""));
    }
    list.extend(DEAD.iter().map(|(plus, minus)| Measurement::between(Tool::Ohmmeter, Held::Isolated, plus, minus)));
    list
}
