//! The battery's equations.

use super::bank::Bank;
use super::battery::Battery;
use super::cut_off::CutOff;
use super::group::LEAKAGE;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::PartError;

const PLUS: usize = 0;
const MINUS: usize = 1;
/// Current into plus.
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];
const PROBES: [Probe; 3] = [
    Probe { name: "open_circuit_voltage", unit: "V" },
    Probe { name: "terminal_voltage", unit: "V" },
    Probe { name: "connected", unit: "1" },
];
const GROUP_NAMES: [[&str; 3]; 2] = [
    ["polarisation_voltage", "state_of_charge", "slow_polarisation_voltage"],
    ["bad_string_polarisation_voltage", "bad_string_state_of_charge", "bad_string_slow_polarisation_voltage"],
];

/// Where a group's unknowns are.
struct Places {
    /// The voltage equation, with the current that the group has of its own.
    row: usize,
    fast: usize,
    charge: usize,
    slow: Option<usize>,
}

impl Bank {
    fn slow(&self) -> bool {
        self.groups.iter().any(|group| group.branches[1].is_some())
    }

    fn places(&self, group: usize) -> Places {
        let slow = usize::from(self.slow());
        let row = I + group * (3 + slow);
        Places { row, fast: row + 1, charge: row + 2, slow: self.slow().then_some(row + 3) }
    }

    /// The cells' own voltage, an unknown only where a cut-off is between them and the posts.
    fn cells(&self) -> Option<usize> {
        self.cut_off.map(|_| I + self.groups.len() * (3 + usize::from(self.slow())))
    }

    /// The currents that make up a group's own, and with which sign: the first group has what the second leaves of the whole.
    fn through(&self, group: usize) -> &[(usize, f64)] {
        match (group, self.groups.len(), self.slow()) {
            (0, 1, _) => &[(I, 1.0)],
            (0, _, false) => &[(I, 1.0), (I + 3, -1.0)],
            (0, _, true) => &[(I, 1.0), (I + 4, -1.0)],
            (_, _, false) => &[(I + 3, 1.0)],
            (_, _, true) => &[(I + 4, 1.0)],
        }
    }

    /// A group's own charging current.
    fn current(&self, at: &At, group: usize) -> f64 {
        self.sign * self.through(group).iter().map(|&(column, weight)| weight * at.x(column)).sum::<f64>()
    }

    /// Voltage between its posts, positive when healthy.
    fn posts(&self, at: &At) -> f64 {
        self.sign * (at.x(PLUS) - at.x(MINUS))
    }

    /// Voltage across all groups.
    fn across(&self, at: &At) -> f64 {
        self.cells().map_or_else(|| self.posts(at), |cells| at.x(cells))
    }

    /// Voltage that a group's source, branches and resistance add up to.
    fn group_voltage(&self, at: &At, group: usize) -> f64 {
        let places = self.places(group);
        let (own, soc) = (&self.groups[group], at.x(places.charge));
        let polarised = at.x(places.fast) + places.slow.map_or(0.0, |slow| at.x(slow));
        own.voltage(&self.curves, soc).0 + polarised + own.resistance(&self.curves, soc).0 * self.current(at, group)
    }

    fn evaluate_group(&self, at: &At, out: &mut Stamp, k: usize) {
        let (group, places) = (&self.groups[k], self.places(k));
        let (i, soc) = (self.current(at, k), at.x(places.charge));
        let through = self.through(k);
        // voltage - across = 0; where it is open, i + G (voltage - across) = 0
        let (gain, own) = if group.open { (LEAKAGE, 1.0) } else { (1.0, 0.0) };
        let ((_, slope), (r, r_slope)) = (group.voltage(&self.curves, soc), group.resistance(&self.curves, soc));
        out.f(places.row, gain * (self.group_voltage(at, k) - self.across(at)) + own * i);
        out.df(places.row, places.charge, gain * (slope + r_slope * i));
        out.df(places.row, places.fast, gain);
        for &(column, weight) in through {
            out.df(places.row, column, self.sign * weight * (gain * r + own));
        }
        match self.cells() {
            Some(cells) => out.df(places.row, cells, -gain),
            None => {
                out.df(places.row, PLUS, -gain * self.sign);
                out.df(places.row, MINUS, gain * self.sign);
            }
        }
        let branches = [(Some(places.fast), group.branches[0]), (places.slow, group.branches[1])];
        for (place, branch) in branches {
            let Some(place) = place else { continue };
            let Some((r, c)) = branch else {
                out.f(place, at.x(place));
                out.df(place, place, 1.0);
                continue;
            };
            out.q(place, c * at.x(place));
            out.dq(place, place, c);
            out.f(place, at.x(place) / r - i);
            out.df(place, place, 1.0 / r);
            for &(column, weight) in through {
                out.df(place, column, -self.sign * weight);
            }
        }
        if let Some(slow) = places.slow {
            out.df(places.row, slow, gain);
        }
        let (charging, by_current) = group.charging(&self.curves, i);
        out.q(places.charge, group.capacity * soc);
        out.dq(places.charge, places.charge, group.capacity);
        out.f(places.charge, -charging);
        for &(column, weight) in through {
            out.df(places.charge, column, -self.sign * weight * by_current);
        }
    }

    /// The transistors between the cells and the posts.
    fn evaluate_cut_off(&self, at: &At, out: &mut Stamp, cut_off: &CutOff, cells: usize) {
        let e = at.x(cells) - self.posts(at);
        let (f, by_e, by_i) = if CutOff::is_open(at.memory) {
            let (g, slope) = cut_off.open_current(e, self.blocks);
            (self.sign * at.x(I) + g, slope, 1.0)
        } else {
            (e, 1.0, 0.0)
        };
        out.f(cells, f);
        out.df(cells, cells, by_e);
        out.df(cells, PLUS, -self.sign * by_e);
        out.df(cells, MINUS, self.sign * by_e);
        out.df(cells, I, self.sign * by_i);
    }

    fn group_power(&self, at: &At, k: usize) -> Power {
        let (group, places) = (&self.groups[k], self.places(k));
        let (i, soc) = (self.current(at, k), at.x(places.charge));
        let branches = [(Some(places.fast), group.branches[0]), (places.slow, group.branches[1])];
        let lost = |(place, branch): (Option<usize>, Option<(f64, f64)>)| {
            place.zip(branch).map_or(0.0, |(place, (r, _))| at.x(place) * at.x(place) / r)
        };
        let gap = if group.open { -i * (self.group_voltage(at, k) - self.across(at)) } else { 0.0 };
        Power {
            delivered: -group.voltage(&self.curves, soc).0 * i,
            dissipated: group.resistance(&self.curves, soc).0 * i * i + branches.map(lost).iter().sum::<f64>() + gap,
        }
    }
}

impl Part for Bank {
    fn kind(&self) -> &'static str {
        "battery"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let mut unknowns = vec![Unknown::fast("current", "A", 1.0)];
        for (k, group) in self.groups.iter().enumerate() {
            let [fast, charge, slow] = GROUP_NAMES[k];
            if k == 1 {
                unknowns.push(Unknown::fast("bad_string_current", "A", 1.0));
            }
            unknowns.push(Unknown::slow(fast, "V", 0.1, 0.0));
            // Not slow: at an equilibrium of the charge there is no current at all, so it is held even when settled.
            unknowns.push(Unknown::accumulator(charge, 0.1, group.charge));
            if self.slow() {
                unknowns.push(Unknown::slow(slow, "V", 0.1, 0.0));
            }
        }
        if self.cut_off.is_some() {
            unknowns.push(Unknown::fast("cell_voltage", "V", 1.0));
        }
        unknowns
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        super::super::branch_current(at, out, PLUS, MINUS, I);
        for k in 0..self.groups.len() {
            self.evaluate_group(at, out, k);
        }
        if let (Some(cut_off), Some(cells)) = (&self.cut_off, self.cells()) {
            self.evaluate_cut_off(at, out, cut_off, cells);
        }
    }

    fn memory(&self) -> Memory {
        if self.cut_off.is_some() { CutOff::memory() } else { Memory::default() }
    }

    fn guards(&self) -> &[&'static str] {
        if self.cut_off.is_some() { &CutOff::GUARDS } else { &[] }
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        if let Some(cut_off) = &self.cut_off {
            cut_off.guard_values(-self.sign * at.x(I), self.posts(at), at.memory, out);
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        CutOff::next_time(memory)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        if let Some(cut_off) = &self.cut_off {
            cut_off.change(trigger, at.t, change);
        }
    }

    fn power(&self, at: &At) -> Power {
        let mut power = Power::default();
        for k in 0..self.groups.len() {
            let own = self.group_power(at, k);
            power.delivered += own.delivered;
            power.dissipated += own.dissipated;
        }
        if let Some(cells) = self.cells() {
            power.dissipated += -self.sign * at.x(I) * (at.x(cells) - self.posts(at));
        }
        power
    }

    fn stored(&self, at: &At) -> f64 {
        let mut stored = 0.0;
        for (k, group) in self.groups.iter().enumerate() {
            let places = self.places(k);
            for (place, branch) in [(Some(places.fast), group.branches[0]), (places.slow, group.branches[1])] {
                let energy = |(place, (_, c)): (usize, (f64, f64))| 0.5 * c * at.x(place) * at.x(place);
                stored += place.zip(branch).map_or(0.0, energy);
            }
        }
        stored
    }

    fn probes(&self) -> &[Probe] {
        if self.cut_off.is_some() { &PROBES } else { &PROBES[..2] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.sign * self.groups[0].voltage(&self.curves, at.x(self.places(0).charge)).0,
            1 => at.x(PLUS) - at.x(MINUS),
            _ => f64::from(u8::from(!CutOff::is_open(at.memory))),
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

// The copy that a circuit computes with has its curves and groups ready.
impl Part for Battery {
    fn kind(&self) -> &'static str {
        "battery"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.checked()
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.bank().unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.bank().evaluate(at, out);
    }

    fn memory(&self) -> Memory {
        self.bank().memory()
    }

    fn guards(&self) -> &[&'static str] {
        if self.cut_off.is_some() { &CutOff::GUARDS } else { &[] }
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        self.bank().guard_values(at, out);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        CutOff::next_time(memory)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        self.bank().change(trigger, at, change);
    }

    fn power(&self, at: &At) -> Power {
        self.bank().power(at)
    }

    fn stored(&self, at: &At) -> f64 {
        self.bank().stored(at)
    }

    fn probes(&self) -> &[Probe] {
        if self.cut_off.is_some() { &PROBES } else { &PROBES[..2] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        self.bank().probe(index, at)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.bank())
    }
}
