//! Parts of a user's own for these tests: one that chatters, one on a timer, one that breaks the rules.

use stallpoint::circuit::{At, Change, Memory, Part, Power, Stamp, Terminal, Trigger, electrical};

const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

fn conduct(at: &At, out: &mut Stamp, conductance: f64) {
    for (row, sign) in [(0, 1.0), (1, -1.0)] {
        out.f(row, sign * conductance * (at.x(0) - at.x(1)));
        out.df(row, 0, sign * conductance);
        out.df(row, 1, -sign * conductance);
    }
}

/// A contact in its own coil's circuit: above a voltage it closes and so takes the voltage away.
#[derive(Debug, Clone)]
pub struct Buzzer;

impl Part for Buzzer {
    fn kind(&self) -> &'static str {
        "buzzer"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        conduct(at, out, if at.memory.mode == 0 { 1e-3 } else { 1e3 });
    }

    fn guards(&self) -> &[&'static str] {
        &["pulls in", "drops out"]
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        let over = at.x(0) - at.x(1) - 6.0;
        out[at.memory.mode as usize] = if at.memory.mode == 0 { over } else { -over };
    }

    fn change(&self, trigger: Trigger, _at: &At, change: &mut Change) {
        change.memory.mode = u32::from(trigger == Trigger::Guard(0));
    }

    fn power(&self, at: &At) -> Power {
        let v = at.x(0) - at.x(1);
        Power { delivered: 0.0, dissipated: v * v * if at.memory.mode == 0 { 1e-3 } else { 1e3 } }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

/// Closes and opens at fixed times; `slipping`, it writes a derivative when closed that it did not announce.
#[derive(Debug, Clone)]
pub struct Timer {
    pub times: Vec<f64>,
    pub slipping: bool,
}

impl Part for Timer {
    fn kind(&self) -> &'static str {
        "timer"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let closed = at.memory.mode % 2 == 1;
        if self.slipping {
            let conductance = if closed { 1.0 } else { 1e-3 };
            let current = conductance * (at.x(0) - at.x(1));
            out.f(0, current);
            out.f(1, -current);
            out.df(0, 0, conductance);
            out.df(1, 1, conductance);
            if closed {
                out.df(0, 1, -conductance);
                out.df(1, 0, -conductance);
            }
        } else {
            conduct(at, out, if closed { 1.0 } else { 1e-3 });
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        self.times.get(memory.mode as usize).copied()
    }

    fn change(&self, trigger: Trigger, _at: &At, change: &mut Change) {
        if trigger == Trigger::Time {
            change.memory.mode += 1;
            change.event(if change.memory.mode % 2 == 1 { "closes" } else { "opens" });
        }
    }

    fn power(&self, at: &At) -> Power {
        let v = at.x(0) - at.x(1);
        Power { delivered: 0.0, dissipated: v * v * if at.memory.mode % 2 == 1 { 1.0 } else { 1e-3 } }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

/// Conducts until a time, then gives no number.
#[derive(Debug, Clone)]
pub struct Broken {
    pub after: f64,
}

impl Part for Broken {
    fn kind(&self) -> &'static str {
        "broken part"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        conduct(at, out, if at.t > self.after { f64::NAN } else { 1.0 });
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
