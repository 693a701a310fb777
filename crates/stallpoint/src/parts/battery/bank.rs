//! A battery reduced to what its equations need.

use super::battery::{Battery, REFERENCE_C};
use super::cut_off::CutOff;
use super::group::{Curves, Group, LEAKAGE};
use crate::tables::{PiecewiseLinear, open_circuit_voltage};

/// A battery as a circuit computes with it.
#[derive(Debug, Clone)]
pub(super) struct Bank {
    /// The good strings; the bad one after them when it is not alone.
    pub(super) groups: Vec<Group>,
    pub(super) curves: Curves,
    /// -1 when its posts are exchanged.
    pub(super) sign: f64,
    pub(super) cut_off: Option<CutOff>,
    /// Nominal 12 V blocks in series.
    pub(super) blocks: f64,
}

impl Battery {
    pub(super) fn bank(&self) -> Bank {
        let strings = f64::from(self.strings_in_parallel);
        let (good, bad) = match &self.faults.bad_string {
            Some(_) if strings > 1.0 => (Some(strings - 1.0), true),
            Some(_) => (None, true),
            None => (Some(strings), false),
        };
        let mut groups: Vec<Group> = good.map(|strings| self.group(strings)).into_iter().collect();
        groups.extend(bad.then(|| self.bad_string()));
        let sign = if self.faults.reversed { -1.0 } else { 1.0 };
        let blocks = f64::from(self.blocks_in_series);
        Bank { groups, curves: self.curves(), sign, cut_off: self.cut_off, blocks }
    }

    /// Good strings.
    fn group(&self, strings: f64) -> Group {
        let blocks = f64::from(self.blocks_in_series);
        let scale = blocks / strings;
        let branch = |branch: Option<(f64, f64)>| branch.map(|(r, c)| (r * scale, c / scale));
        Group {
            strings,
            blocks,
            capacity: self.capacity.si() * strings,
            resistance: self.block_resistance() * self.warmth() * scale,
            added: 0.0,
            branches: self.branches().map(branch),
            charge: self.state_of_charge.si(),
            open: false,
        }
    }

    fn bad_string(&self) -> Group {
        let whole = self.group(1.0);
        let bad = self.faults.bad_string.unwrap_or_default();
        let cells = f64::from(self.cells_in_series());
        let left = (cells - f64::from(bad.dead_cells)) / cells;
        Group {
            blocks: whole.blocks * left,
            resistance: whole.resistance * left,
            added: bad.added_resistance.si(),
            branches: whole.branches.map(|branch| branch.map(|(r, c)| (r * left, c / left))),
            capacity: whole.capacity * bad.capacity_left.si(),
            charge: bad.state_of_charge.unwrap_or(self.state_of_charge).si(),
            open: bad.open,
            ..whole
        }
    }

    pub(super) fn curves(&self) -> Curves {
        let table = || open_circuit_voltage(self.chemistry).curve().clone();
        let own = |points: &[[f64; 2]]| PiecewiseLinear::new(points.iter().map(|&[x, y]| (x, y)).collect());
        Curves {
            voltage: own(&self.open_circuit_points).unwrap_or_else(table),
            shift: self.open_circuit_coefficient * (self.temperature_c.si() - REFERENCE_C),
            resistance: own(&self.resistance_by_charge),
            peukert: self.peukert.map(|law| (law.rated_current(self.capacity).si(), law.exponent() - 1.0)),
        }
    }
}

impl Bank {
    /// Voltage and resistance that its posts show at the start: all groups in parallel, branches at rest.
    pub(super) fn source(&self) -> (f64, f64) {
        let whole = |group: &Group| {
            (group.voltage(&self.curves, group.charge).0, group.resistance(&self.curves, group.charge).0)
        };
        if let [Group { open: false, .. }] = self.groups[..] {
            let (voltage, resistance) = whole(&self.groups[0]);
            return (self.sign * voltage, resistance);
        }
        let (mut driven, mut conductance) = (0.0, 0.0);
        for group in &self.groups {
            let (voltage, series) = whole(group);
            let g = if group.open { LEAKAGE / (1.0 + LEAKAGE * series) } else { 1.0 / series };
            driven += g * voltage;
            conductance += g;
        }
        (self.sign * driven / conductance, 1.0 / conductance)
    }
}
