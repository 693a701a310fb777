//! From a circuit to equations the solver can integrate.

use std::sync::Arc;

use stallpoint_solve::sparse::Pattern;
use stallpoint_solve::{Cause, Evaluation, System};

use super::circuit::Circuit;
use super::event::Event;
use super::local::{At, LocalEquations, NO_SLOT, REFERENCE, Stamp, Target, Touched};
use super::memory::{Change, Memory, Trigger};
use super::part::{Domain, Pace, Part, Unknown};
use crate::error::{Error, TopologyError};
use crate::parts::Shaft;

/// A part with its place in the equations.
#[derive(Debug, Clone)]
pub(crate) struct Instance {
    pub(crate) name: String,
    pub(crate) part: Box<dyn Part>,
    pub(crate) unknowns: Vec<Unknown>,
    /// Global index of each local value.
    pub(crate) index: Vec<u32>,
    /// Jacobian slot of each local (row, column), row by row.
    pub(super) slots: Vec<u32>,
    /// First of its guards among all guards.
    guards: usize,
}

impl Instance {
    /// The part's view of `x`.
    pub(crate) fn at<'a>(&'a self, t: f64, x: &'a [f64], memory: &'a Memory) -> At<'a> {
        At { t, memory, x, index: &self.index }
    }

    /// Flow into the part at a terminal.
    pub(crate) fn flow(&self, terminal: usize, at: &At, scratch: &mut LocalEquations) -> f64 {
        scratch.f.fill(0.0);
        let size = self.index.len();
        self.part.evaluate(at, &mut Stamp { target: Target::Local(scratch), jacobian: false, size });
        scratch.f[terminal]
    }
}

/// What never changes during a run: nodes, parts, places.
#[derive(Debug)]
pub(crate) struct Layout {
    pub(crate) instances: Vec<Instance>,
    /// Name and domain of each node, the reference first; node `k` is unknown `k - 1`.
    pub(crate) nodes: Vec<super::circuit::Node>,
    /// Instance and own index of each unknown after the nodes.
    pub(super) owners: Vec<(usize, usize)>,
    pub(crate) pattern: Pattern,
    differential: Vec<bool>,
    guard_count: usize,
}

/// Unit sizes below which node values do not matter: 1 V, 1 rad/s.
const NODE_SCALE: f64 = 1.0;

/// The equations of a circuit with their discrete states.
#[derive(Debug, Clone)]
pub(crate) struct Assembly {
    pub(crate) layout: Arc<Layout>,
    pub(crate) memories: Vec<Memory>,
    pub(crate) events: Vec<Event>,
    scale: Vec<f64>,
    next_stop: Option<f64>,
    /// The first part that wrote a derivative it had not announced.
    pub(crate) unannounced: Option<usize>,
}

impl Assembly {
    /// Lays out the equations of a circuit whose topology was checked.
    pub(crate) fn new(circuit: &Circuit) -> Result<Self, Error> {
        let node_count = circuit.nodes.len();
        let mut instances: Vec<Instance> = Vec::new();
        let mut owners = Vec::new();
        let placed = circuit.parts.iter().map(|p| (p.name.clone(), p.part.clone(), p.nodes.clone()));
        for (name, part, nodes) in placed.chain(shafts(circuit)) {
            let unknowns = part.unknowns();
            let mut index: Vec<u32> =
                nodes.iter().map(|&node| if node == 0 { REFERENCE } else { node as u32 - 1 }).collect();
            for own in 0..unknowns.len() {
                index.push((node_count - 1 + owners.len()) as u32);
                owners.push((instances.len(), own));
            }
            instances.push(Instance { name, part, unknowns, index, slots: Vec::new(), guards: 0 });
        }
        let n = node_count - 1 + owners.len();
        let memories: Vec<Memory> = instances.iter().map(|instance| instance.part.memory()).collect();
        let touched = touch(&instances, &memories);

        let diagonal = (0..n).map(|i| (i, i));
        let entries = instances.iter().zip(&touched).flat_map(|(instance, touched)| {
            touched.entries.iter().filter_map(|&(row, column)| {
                let (row, column) = (instance.index[row], instance.index[column]);
                (row != REFERENCE && column != REFERENCE).then_some((row as usize, column as usize))
            })
        });
        let pattern = Pattern::from_entries(n, entries.chain(diagonal)).map_err(stallpoint_solve::SolveError::from)?;

        let mut differential = vec![false; n];
        let mut guard_count = 0;
        for (instance, touched) in instances.iter_mut().zip(&touched) {
            instance.slots = slots(instance, touched, &pattern);
            for &row in &touched.contents {
                if instance.index[row] != REFERENCE {
                    differential[instance.index[row] as usize] = true;
                }
            }
            instance.guards = guard_count;
            guard_count += instance.part.guards().len();
        }
        let mut scale = vec![NODE_SCALE; n];
        for (k, &(instance, own)) in owners.iter().enumerate() {
            scale[node_count - 1 + k] = instances[instance].unknowns[own].nominal;
        }
        let nodes = circuit.nodes.clone();
        let layout = Layout { instances, nodes, owners, pattern, differential, guard_count };
        let mut assembly =
            Self { layout: Arc::new(layout), memories, events: Vec::new(), scale, next_stop: None, unannounced: None };
        assembly.refresh_stop();
        Ok(assembly)
    }

    /// Initial values: nodes at zero, own unknowns as the parts say.
    pub(crate) fn initial(&self) -> Vec<f64> {
        let nodes = self.layout.nodes.len() - 1;
        let own = self.layout.owners.iter().map(|&(i, own)| self.layout.instances[i].unknowns[own].initial);
        std::iter::repeat_n(0.0, nodes).chain(own).collect()
    }

    /// Unknowns whose pace satisfies `which`; nodes never do.
    pub(crate) fn paced(&self, which: impl Fn(Pace) -> bool) -> Vec<bool> {
        let nodes = self.layout.nodes.len() - 1;
        let own = self.layout.owners.iter().map(|&(i, own)| which(self.layout.instances[i].unknowns[own].pace));
        std::iter::repeat_n(false, nodes).chain(own).collect()
    }

    /// Sets the size below which values with this unit do not matter.
    pub(crate) fn set_scale(&mut self, unit: &str, size: f64) -> Result<(), Error> {
        let layout = self.layout.clone();
        let mut known: Vec<&str> = (0..self.scale.len()).map(|i| layout.unit(i)).collect();
        for (scale, _) in self.scale.iter_mut().zip(&known).filter(|(_, own)| **own == unit) {
            *scale = size;
        }
        if known.contains(&unit) {
            return Ok(());
        }
        known.sort_unstable();
        known.dedup();
        Err(Error::option("atol", unit, &format!("a unit of this circuit's unknowns: {}", known.join(", "))))
    }

    /// Puts the discrete states back, for example those of an earlier run.
    pub(crate) fn set_memories(&mut self, memories: Vec<Memory>) {
        self.memories = memories;
        self.refresh_stop();
    }

    pub(crate) fn refresh_stop(&mut self) {
        let times = self.layout.instances.iter().zip(&self.memories).filter_map(|(i, m)| i.part.next_time(m));
        self.next_stop = times.filter(|time| time.is_finite()).reduce(f64::min);
    }

    /// Lets one part change at a trigger.
    pub(crate) fn trigger(&mut self, which: usize, trigger: Trigger, t: f64, x: &mut [f64]) {
        let layout = self.layout.clone();
        let instance = &layout.instances[which];
        let mut change = Change::from(&self.memories[which]);
        instance.part.change(trigger, &instance.at(t, x, &self.memories[which]), &mut change);
        self.memories[which] = change.memory;
        for (local, value) in change.resets {
            if let Some(place) = x.get_mut(instance.index[local] as usize) {
                *place = value;
            }
        }
        let event = |what| Event { time: t, part: instance.name.clone(), what };
        self.events.extend(change.events.into_iter().map(event));
    }

    /// The part and its own index of a guard.
    pub(crate) fn guard_owner(&self, guard: usize) -> (usize, usize) {
        let instances = &self.layout.instances;
        let which = instances.partition_point(|instance| instance.guards <= guard) - 1;
        (which, guard - instances[which].guards)
    }
}

/// One shaft part for each shaft node: it sums inertia and dry friction of the parts on it.
fn shafts(circuit: &Circuit) -> impl Iterator<Item = (String, Box<dyn Part>, Vec<usize>)> + '_ {
    let shafts = circuit.nodes.iter().enumerate().filter(|(_, node)| node.domain == Domain::Shaft);
    shafts.map(|(index, node)| {
        let on_it = circuit.parts.iter().filter(|placed| placed.nodes.contains(&index));
        let shaft = Shaft::carrying(on_it.map(|placed| &*placed.part));
        (node.name.clone(), Box::new(shaft) as Box<dyn Part>, vec![index])
    })
}

/// Runs every part once to learn which entries it touches.
fn touch(instances: &[Instance], memories: &[Memory]) -> Vec<Touched> {
    let widest = instances.iter().map(|instance| instance.index.len()).max().unwrap_or(0);
    let identity: Vec<u32> = (0..widest as u32).collect();
    let mut all = Vec::new();
    for (instance, memory) in instances.iter().zip(memories) {
        let mut x = vec![0.0; instance.index.len()];
        let terminals = instance.part.terminals().len();
        for (k, unknown) in instance.unknowns.iter().enumerate() {
            x[terminals + k] = unknown.initial;
        }
        let at = At::alone(0.0, &x, memory, &identity[..x.len()]);
        let mut touched = Touched::default();
        instance.part.evaluate(&at, &mut Stamp { target: Target::Record(&mut touched), jacobian: true, size: x.len() });
        all.push(touched);
    }
    all
}

fn slots(instance: &Instance, touched: &Touched, pattern: &Pattern) -> Vec<u32> {
    let size = instance.index.len();
    let mut slots = vec![NO_SLOT; size * size];
    for &(row, column) in &touched.entries {
        let (global_row, global_column) = (instance.index[row], instance.index[column]);
        let nowhere = NO_SLOT - 1; // announced, but in the reference's row or column
        slots[row * size + column] = if global_row == REFERENCE || global_column == REFERENCE {
            nowhere
        } else {
            pattern.slot(global_row as usize, global_column as usize).map_or(nowhere, |slot| slot as u32)
        };
    }
    slots
}

impl System for Assembly {
    fn pattern(&self) -> &Pattern {
        &self.layout.pattern
    }

    fn differential(&self) -> &[bool] {
        &self.layout.differential
    }

    fn scale(&self) -> &[f64] {
        &self.scale
    }

    fn evaluate(&mut self, t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation) {
        for (which, (instance, memory)) in self.layout.instances.iter().zip(&self.memories).enumerate() {
            let mut missed = false;
            let target =
                Target::Global { out: &mut *out, index: &instance.index, slots: &instance.slots, missed: &mut missed };
            let size = instance.index.len();
            instance.part.evaluate(&instance.at(t, x, memory), &mut Stamp { target, jacobian, size });
            if missed && self.unannounced.is_none() {
                self.unannounced = Some(which);
            }
        }
    }

    fn guard_count(&self) -> usize {
        self.layout.guard_count
    }

    fn guards(&mut self, t: f64, x: &[f64], out: &mut [f64]) {
        for (instance, memory) in self.layout.instances.iter().zip(&self.memories) {
            let count = instance.part.guards().len();
            if count > 0 {
                let own = &mut out[instance.guards..instance.guards + count];
                instance.part.guard_values(&instance.at(t, x, memory), own);
            }
        }
    }

    fn next_stop(&self) -> Option<f64> {
        self.next_stop
    }

    fn fire(&mut self, cause: Cause, t: f64, x: &mut [f64]) {
        match cause {
            Cause::Guard(guard) => {
                let (which, own) = self.guard_owner(guard);
                self.trigger(which, Trigger::Guard(own), t, x);
            }
            Cause::Schedule => {
                for which in 0..self.layout.instances.len() {
                    let due = self.layout.instances[which].part.next_time(&self.memories[which]);
                    if due.is_some_and(|due| due <= t) {
                        self.trigger(which, Trigger::Time, t, x);
                    }
                }
            }
        }
        self.refresh_stop();
    }

    fn unknown_name(&self, index: usize) -> String {
        let nodes = &self.layout.nodes;
        match nodes.get(index + 1) {
            Some(node) if node.domain == Domain::Electrical => format!("the voltage at node \"{}\"", node.name),
            Some(node) => format!("the speed of shaft \"{}\"", node.name),
            None => {
                let (instance, own) = self.layout.owners[index + 1 - nodes.len()];
                let instance = &self.layout.instances[instance];
                format!("{} of part \"{}\"", instance.unknowns[own].name, instance.name)
            }
        }
    }

    fn equation_name(&self, index: usize) -> String {
        let nodes = &self.layout.nodes;
        match nodes.get(index + 1) {
            Some(node) if node.domain == Domain::Electrical => {
                format!("the sum of currents at node \"{}\"", node.name)
            }
            Some(node) => format!("the sum of torques on shaft \"{}\"", node.name),
            None => {
                let (instance, own) = self.layout.owners[index + 1 - nodes.len()];
                let instance = &self.layout.instances[instance];
                format!("the equation for {} of part \"{}\"", instance.unknowns[own].name, instance.name)
            }
        }
    }

    fn guard_name(&self, guard: usize) -> String {
        let (which, own) = self.guard_owner(guard);
        let instance = &self.layout.instances[which];
        format!("part \"{}\" {}", instance.name, instance.part.guards()[own])
    }
}

impl Layout {
    /// Unit of an unknown.
    pub(crate) fn unit(&self, index: usize) -> &'static str {
        match self.nodes.get(index + 1) {
            Some(node) if node.domain == Domain::Electrical => "V",
            Some(_) => "rad/s",
            None => {
                let (instance, own) = self.owners[index + 1 - self.nodes.len()];
                self.instances[instance].unknowns[own].unit
            }
        }
    }

    /// Number of unknowns.
    pub(crate) fn size(&self) -> usize {
        self.pattern.n()
    }

    /// Scratch wide enough for any part.
    pub(crate) fn scratch(&self) -> super::local::LocalEquations {
        LocalEquations::new(self.instances.iter().map(|instance| instance.index.len()).max().unwrap_or(0))
    }

    /// Global index of a node's value; `None` for the reference.
    pub(crate) fn node(&self, name: &str) -> Result<Option<usize>, Error> {
        match self.nodes.iter().position(|node| node.name == name) {
            Some(index) => Ok(index.checked_sub(1)),
            None => {
                let known = super::circuit::closest(name, self.nodes.iter().map(|node| node.name.as_str()));
                Err(TopologyError::UnknownNode { node: name.into(), known }.into())
            }
        }
    }

    /// Index of a part.
    pub(crate) fn part(&self, name: &str) -> Result<usize, Error> {
        self.instances.iter().position(|instance| instance.name == name).ok_or_else(|| {
            let known = super::circuit::closest(name, self.instances.iter().map(|i| i.name.as_str()));
            TopologyError::UnknownPart { part: name.into(), known }.into()
        })
    }
}
