//! A switch without arc for closed forms: `v = 0` closed, `i = G v` open, toggled at given times.

use stallpoint::circuit::{At, Change, Memory, Part, Power, Stamp, Terminal, Trigger, Unknown, electrical};

#[derive(Debug, Clone)]
pub struct IdealSwitch {
    closed_first: bool,
    toggles: Vec<f64>,
    leak: f64,
}

impl IdealSwitch {
    /// Closed until `t`.
    pub fn opens_at(t: f64) -> Self {
        Self { closed_first: true, toggles: vec![t], leak: 1e-12 }
    }

    /// Open first, then toggled at each time.
    pub fn toggles_at(times: impl Into<Vec<f64>>) -> Self {
        Self { closed_first: false, toggles: times.into(), leak: 1e-9 }
    }

    fn closed(&self, memory: &Memory) -> bool {
        self.closed_first == memory.mode.is_multiple_of(2)
    }
}

impl Part for IdealSwitch {
    fn kind(&self) -> &'static str {
        "ideal switch"
    }

    fn terminals(&self) -> &[Terminal] {
        const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (by_v, by_i) = if self.closed(at.memory) { (1.0, 0.0) } else { (-self.leak, 1.0) };
        out.f(0, at.x(2));
        out.f(1, -at.x(2));
        out.df(0, 2, 1.0);
        out.df(1, 2, -1.0);
        out.f(2, by_v * (at.x(0) - at.x(1)) + by_i * at.x(2));
        out.df(2, 0, by_v);
        out.df(2, 1, -by_v);
        out.df(2, 2, by_i);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        self.toggles.get(memory.mode as usize).copied()
    }

    fn change(&self, trigger: Trigger, _at: &At, change: &mut Change) {
        if trigger == Trigger::Time {
            change.memory.mode += 1;
        }
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: (at.x(0) - at.x(1)) * at.x(2) }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
