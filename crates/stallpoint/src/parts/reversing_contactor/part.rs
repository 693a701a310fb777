//! The reversing contactor as a part.

use super::super::Contact;
use super::armature::SEALED;
use super::data::ReversingContactor;
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
    fn coil_current(&self, at: &At, armature: usize) -> f64 {
        self.coil.current(at, LEADS[armature], self.position(at.t, &at.memory.numbers, armature))
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
        let coils = COIL_UNKNOWNS.iter().flat_map(|(flux, suppressor)| self.coil.unknowns_named(flux, suppressor));
        contacts.chain(coils).collect()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let numbers = &at.memory.numbers;
        for (k, site) in SITES.iter().enumerate() {
            self.contact(k).evaluate(at, out, site.from, site.to, contact_current(k), &numbers[contact_numbers(k)]);
        }
        for (armature, leads) in LEADS.iter().enumerate() {
            self.coil.stamp(at, out, *leads, self.position(at.t, numbers, armature));
        }
    }

    fn paths(&self) -> Vec<Path> {
        let leaks = [(SUPPLY, MOTOR_A), (MOTOR_A, GROUND), (SUPPLY, MOTOR_B), (MOTOR_B, GROUND)];
        let leaks = leaks.map(|(from, to)| path(from, to, Tie::Conducts));
        let coils = [COIL_A, COIL_B].map(|coil| path(coil, COIL_RETURN, self.coil.tie()));
        leaks.into_iter().chain(coils).collect()
    }

    fn memory(&self) -> Memory {
        let at_rest = |contact| (0..2).any(|armature| self.rested_by(armature).contains(&contact));
        let contacts = (0..SITES.len()).flat_map(|contact| Contact::rest(at_rest(contact)));
        let armatures = (0..2).flat_map(|_| self.armature_at_rest());
        Memory::new(0, contacts.chain(armatures).collect::<Vec<f64>>())
    }

    fn guards(&self) -> &[&'static str] {
        &GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        let numbers = &at.memory.numbers;
        for (k, site) in SITES.iter().enumerate() {
            let (own, guards) = (&numbers[contact_numbers(k)], &mut out[contact_guards(k)]);
            self.contact(k).guard_values(at, site.from, site.to, contact_current(k), own, guards);
        }
        for armature in 0..LEADS.len() {
            let current = self.coil_current(at, armature).abs();
            let (pull, sealed) = (self.may_pull(numbers, armature), Self::phase(numbers, armature) == SEALED);
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
            .map(|armature| self.coil.lost(at, LEADS[armature], self.position(at.t, &at.memory.numbers, armature)))
            .sum();
        Power { delivered: 0.0, dissipated: contacts + coils }
    }

    fn stored(&self, at: &At) -> f64 {
        let field =
            |armature: usize| self.coil.field(at, LEADS[armature], self.position(at.t, &at.memory.numbers, armature));
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
