//! The reversing contactor as a part.

use super::super::Contact;
use super::super::coil::Winding;
use super::armature::REST;
use super::data::ReversingContactor;
use super::faults::ContactFault;
use super::layout::{
    COIL_A, COIL_B, COIL_RETURN, COIL_UNKNOWNS, CONTACT_GUARDS, CURRENT_NAMES, GROUND, GUARDS, LEADS, MOTOR_A, MOTOR_B,
    SITES, SUPPLY, contact_current, contact_guards, contact_numbers, pull_guard,
};
use crate::circuit::{
    At, Change, Memory, Part, Path, Power, Probe, Stamp, Terminal, Tie, Trigger, Unknown, electrical, path,
};
use crate::error::PartError;

const TERMINALS: [Terminal; 7] = [
    electrical("supply"),
    electrical("ground"),
    electrical("motor_a"),
    electrical("motor_b"),
    electrical("coil_a"),
    electrical("coil_b"),
    electrical("coil_return"),
];
const PROBES: [Probe; 10] = [
    Probe { name: "coil_a_voltage", unit: "V" },
    Probe { name: "coil_a_current", unit: "A" },
    Probe { name: "armature_a_position", unit: "1" },
    Probe { name: "coil_b_voltage", unit: "V" },
    Probe { name: "coil_b_current", unit: "A" },
    Probe { name: "armature_b_position", unit: "1" },
    Probe { name: "supply_a_closed", unit: "1" },
    Probe { name: "ground_a_closed", unit: "1" },
    Probe { name: "supply_b_closed", unit: "1" },
    Probe { name: "ground_b_closed", unit: "1" },
];

impl ReversingContactor {
    fn winding(&self, armature: usize) -> Winding<'_> {
        self.coil.winding(self.faults.coil(armature))
    }

    fn coil_current(&self, at: &At, armature: usize) -> f64 {
        let position = self.position(at.t, &at.memory.numbers, armature);
        self.winding(armature).flux_current(at, LEADS[armature], position).value
    }
}

impl Part for ReversingContactor {
    fn kind(&self) -> &'static str {
        "reversing contactor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.check_data()
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let contacts = CURRENT_NAMES.iter().map(|name| Unknown::fast(name, "A", 1.0));
        let coils = COIL_UNKNOWNS
            .iter()
            .enumerate()
            .flat_map(|(armature, (flux, suppressor))| self.winding(armature).unknowns_named(flux, suppressor));
        contacts.chain(coils).collect()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let numbers = &at.memory.numbers;
        for (k, site) in SITES.iter().enumerate() {
            self.contact(k).evaluate(at, out, site.from, site.to, contact_current(k), &numbers[contact_numbers(k)]);
        }
        for (armature, leads) in LEADS.iter().enumerate() {
            let winding = self.winding(armature);
            winding.stamp(at, out, *leads, winding.flux_current(at, *leads, self.position(at.t, numbers, armature)));
        }
    }

    fn paths(&self) -> Vec<Path> {
        let leaks = [(SUPPLY, MOTOR_A), (MOTOR_A, GROUND), (SUPPLY, MOTOR_B), (MOTOR_B, GROUND)];
        let leaks = leaks.map(|(from, to)| path(from, to, Tie::Conducts));
        let coils =
            [(COIL_A, 0), (COIL_B, 1)].map(|(coil, armature)| path(coil, COIL_RETURN, self.winding(armature).tie()));
        leaks.into_iter().chain(coils).collect()
    }

    fn memory(&self) -> Memory {
        self.memory_in([REST, REST])
    }

    fn guards(&self) -> &[&'static str] {
        &GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        let numbers = &at.memory.numbers;
        for (k, site) in SITES.iter().enumerate() {
            let (own, guards) = (&numbers[contact_numbers(k)], &mut out[contact_guards(k)]);
            if self.faults.contact(k) == ContactFault::Missing {
                guards.fill(-1.0);
                continue;
            }
            self.contact(k).guard_values(at, site.from, site.to, contact_current(k), own, guards);
        }
        for armature in 0..LEADS.len() {
            // A coil with shorted turns pulls by its ampere-turns.
            let current = self.winding(armature).pull(self.coil_current(at, armature));
            let (pull, sealed) = (self.may_pull(numbers, armature), self.may_drop(numbers, armature));
            out[pull_guard(armature)] = if pull { current - self.pull_in_current() } else { -1.0 };
            out[pull_guard(armature) + 1] = if sealed { self.drop_out_current() - current } else { -1.0 };
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        let contacts = (0..SITES.len()).map(|k| Contact::next_time(&memory.numbers[contact_numbers(k)]));
        let armatures = (0..LEADS.len()).map(|armature| self.armature_time(&memory.numbers, armature));
        contacts.chain(armatures).reduce(f64::min)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        match trigger {
            // What is due at one time happens in this order: gaps, then set A, then set B.
            Trigger::Time => {
                for (k, site) in SITES.iter().enumerate() {
                    let own = &mut change.memory.numbers[contact_numbers(k)];
                    if Contact::next_time(own) <= at.t
                        && let Some(what) = self.contact(k).full_gap(at.x(contact_current(k)), own)
                    {
                        change.event(format!("{what}, {}", site.words));
                    }
                }
                for armature in 0..LEADS.len() {
                    self.armature_due(armature, at, change);
                }
            }
            Trigger::Guard(guard) if guard < CONTACT_GUARDS => {
                let (k, own) = (guard / Contact::GUARDS.len(), guard % Contact::GUARDS.len());
                if let Some(what) = Contact::fire(own, &mut change.memory.numbers[contact_numbers(k)]) {
                    change.event(format!("{what}, {}", SITES[k].words));
                }
            }
            Trigger::Guard(guard) => {
                let armature = (guard - CONTACT_GUARDS) / 2;
                if guard == pull_guard(armature) {
                    self.pull(armature, at, change);
                } else {
                    self.drop(armature, at, change);
                }
            }
        }
    }

    fn power(&self, at: &At) -> Power {
        let contacts: f64 =
            SITES.iter().enumerate().map(|(k, site)| Contact::heat(at, site.from, site.to, contact_current(k))).sum();
        let coils: f64 = (0..LEADS.len())
            .map(|armature| {
                self.winding(armature).lost(at, LEADS[armature], self.position(at.t, &at.memory.numbers, armature))
            })
            .sum();
        Power { delivered: 0.0, dissipated: contacts + coils }
    }

    fn stored(&self, at: &At) -> f64 {
        let field = |armature: usize| {
            self.winding(armature).field(at, LEADS[armature], self.position(at.t, &at.memory.numbers, armature))
        };
        field(0) + field(1)
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        if let Some(contact) = index.checked_sub(6) {
            return f64::from(u8::from(Contact::is_closed(&at.memory.numbers[contact_numbers(contact)])));
        }
        let armature = index / 3;
        match index % 3 {
            0 => at.x(LEADS[armature].plus) - at.x(LEADS[armature].minus),
            1 => self.coil_current(at, armature),
            _ => self.position(at.t, &at.memory.numbers, armature).value,
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
