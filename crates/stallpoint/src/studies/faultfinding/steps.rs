//! The steps of common practice.

use super::finder::FaultFinder;
use super::limits::between;
use super::meaning::Meaning;
use super::measurement::{Measurement, Observed, Tool};
use super::position::Held;
use crate::error::Error;

/// A step of the procedure.
#[derive(Debug, Clone, PartialEq)]
pub struct ProcedureStep {
    /// What it is about.
    pub title: String,
    /// What to measure.
    pub measurement: Measurement,
    /// The faults that it tests, in words: those of them that this reading shows.
    pub tests: Vec<String>,
    /// What a healthy drive shows.
    pub healthy: Observed,
    /// Two deviations about it, of meter and parameter spread; none for words.
    pub tolerance: Option<f64>,
    /// Published limits, each with the voltage it is published for and its document.
    pub limits: Vec<String>,
    /// What other readings mean: the faults that it tests first.
    pub meanings: Vec<Meaning>,
    /// What to mind.
    pub caution: String,
}

/// Title, instrument, position, probes, and the faults tested by the beginning of their names.
type Line = (&'static str, Tool, Held, &'static str, &'static str, &'static [&'static str]);

/// Supply, ground, signals, the contactor each way, the motor.
const STEPS: [Line; 15] = [
    (
        "Supply at rest",
        Tool::Voltmeter,
        Held::AtRest,
        "battery_positive",
        "battery_negative",
        &["battery discharged", "battery dead", "battery reversed"],
    ),
    (
        "Supply at rest, at the contactor",
        Tool::Voltmeter,
        Held::AtRest,
        "supply_stud",
        "battery_negative",
        &["isolator off", "breaker open", "fuse blown", "supply_cable broken", "supply_and_ground"],
    ),
    (
        "Supply with a load on it",
        Tool::TestLamp,
        Held::AtRest,
        "supply_stud",
        "ground_stud",
        &[
            "isolator off",
            "breaker open",
            "fuse blown",
            "ground_stud_joint open",
            "battery_negative_joint open",
            "supply_stud_joint open",
            "battery_positive_joint open",
            "isolator_in_joint open",
            "isolator_out_joint open",
            "breaker_in_joint open",
            "breaker_out_joint open",
            "ground_cable broken",
            "supply_cable broken",
        ],
    ),
    (
        "Battery under load",
        Tool::Voltmeter,
        Held::Forward,
        "battery_positive",
        "battery_negative",
        &["battery worn", "battery dead", "battery bad_string"],
    ),
    (
        "Supply under load",
        Tool::Voltmeter,
        Held::Forward,
        "supply_stud",
        "battery_negative",
        &[
            "supply_stud_joint corroded",
            "battery_positive_joint corroded",
            "isolator",
            "breaker_in_joint corroded",
            "breaker_out_joint corroded",
            "breaker burnt",
            "fuse burnt",
            "supply_cable",
        ],
    ),
    (
        "Ground under load",
        Tool::Voltmeter,
        Held::Forward,
        "ground_stud",
        "battery_negative",
        &["ground_stud_joint", "battery_negative_joint", "ground_cable"],
    ),
    (
        "Ground joint, stud against lug",
        Tool::Voltmeter,
        Held::Forward,
        "ground_stud",
        "ground_stud_lug",
        &["ground_stud_joint"],
    ),
    ("Bond of the case", Tool::Ohmmeter, Held::Isolated, "case", "battery_negative", &["case bond_open"]),
    (
        "Signal A",
        Tool::LowImpedance,
        Held::Forward,
        "coil_a_lug",
        "coil_return",
        &["signal_wire_a", "control_switch_a", "coil_a_terminal", "control_supply_wire", "signal_wires"],
    ),
    (
        "Signal B",
        Tool::LowImpedance,
        Held::Reverse,
        "coil_b_lug",
        "coil_return",
        &["signal_wire_b", "control_switch_b", "coil_b_terminal", "control_supply_wire", "signal_wires"],
    ),
    (
        "Return of the coils",
        Tool::Voltmeter,
        Held::Forward,
        "coil_return",
        "battery_negative",
        &["coil_return_wire", "coil_a open"],
    ),
    (
        "Contactor forward",
        Tool::Voltmeter,
        Held::Forward,
        "supply_stud",
        "motor_a_stud",
        &["supply_contact_a", "armature_a", "coil_a open", "coil_a shorted", "suppressor_a shorted"],
    ),
    (
        "Contactor forward, the other side",
        Tool::Voltmeter,
        Held::Forward,
        "motor_b_stud",
        "ground_stud",
        &["ground_contact_b", "supply_contact_b welded"],
    ),
    (
        "Contactor reverse",
        Tool::Voltmeter,
        Held::Reverse,
        "motor_a_stud",
        "motor_b_stud",
        &[
            "supply_contact_b",
            "ground_contact_a",
            "armature_b",
            "coil_b open",
            "coil_b shorted",
            "suppressor_b shorted",
            "supply_contacts",
        ],
    ),
    ("Motor", Tool::Voltmeter, Held::Forward, "motor_a", "motor_b", &["motor", "motor_lead", "load"]),
];

/// What common practice looks at before it measures.
const LOOKS: [(Tool, Held); 6] = [
    (Tool::WatchMotor, Held::AtRest),
    (Tool::WatchMotor, Held::Forward),
    (Tool::WatchMotor, Held::Reverse),
    (Tool::Listen, Held::Forward),
    (Tool::Listen, Held::Reverse),
    (Tool::WatchBreaker, Held::Forward),
];

/// The measurements of common practice in their order: a look, then the steps.
pub(super) fn practice(device: &str) -> Vec<Measurement> {
    // Nobody holds a stalled motor to see a fuse blow.
    let watched = |tool: Tool| tool != Tool::WatchBreaker || device == "breaker";
    let looks = LOOKS.iter().filter(|look| watched(look.0)).map(|&(tool, held)| Measurement::look(tool, held));
    looks
        .chain(STEPS.iter().map(|&(_, tool, held, plus, minus, _)| Measurement::between(tool, held, plus, minus)))
        .collect()
}

impl FaultFinder {
    /// The steps of common practice for the drive: supply, ground, signals, the contactor each way, the motor, each with what a
    /// healthy drive shows, published limits, what other readings mean, and its caution.
    ///
    /// Limits: what other readings mean comes from the finder's table: one fault at a time.
    ///
    /// # Errors
    /// Only those of the drive's own measurements: none that a user causes.
    pub fn steps(&mut self) -> Result<Vec<ProcedureStep>, Error> {
        STEPS.iter().map(|line| self.step(line)).collect()
    }

    fn step(&mut self, &(title, tool, held, plus, minus, tested): &Line) -> Result<ProcedureStep, Error> {
        let measurement = Measurement::between(tool, held, plus, minus);
        let (healthy, deviation) = self.healthy(&measurement)?;
        let device = self.table.bench.device;
        // The lists name a breaker's joints.
        let own = |start: &str| start.replacen("breaker_", &format!("{device}_"), 1);
        let tests = |name: &str| tested.iter().any(|start| name.starts_with(&own(start)));
        let nominal = self.table.bench.nominal;
        let meanings = self.meanings(&measurement, tests)?;
        let tested: Vec<String> =
            self.table.entries.iter().filter(|e| tests(&e.name())).map(|e| e.words.clone()).collect();
        let shown = |words: &String| meanings.iter().any(|meaning| meaning.faults.contains(words));
        Ok(ProcedureStep {
            title: title.into(),
            tests: tested.into_iter().filter(shown).collect(),
            tolerance: deviation.map(|deviation| tool.tolerance(&healthy, 2.0 * deviation)),
            healthy,
            limits: between(plus, minus, nominal).iter().map(|limit| limit.for_drive(nominal)).collect(),
            meanings,
            caution: measurement.caution_with(self.table.bench.short_circuit),
            measurement,
        })
    }
}
