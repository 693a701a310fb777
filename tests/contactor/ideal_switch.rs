//! A switch without arc for closed forms: `v = 0` closed, `i = G v` open.

use stallpoint::circuit::{At, Change, Memory, Part, Power, Stamp, Terminal, Trigger, Unknown, electrical};

/// So small that it does not count beside a coil's current.
const LEAK: f64 = 1e-12;

#[derive(Debug, Clone)]
pub struct IdealSwitch {
    opens_at: f64,
}

impl IdealSwitch {
    /// Closed until `t`.
    pub fn opens_at(t: f64) -> Self {
        Self { opens_at: t }
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
        let (by_v, by_i) = if at.memory.mode == 0 { (1.0, 0.0) } else { (-LEAK, 1.0) };
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
        (memory.mode == 0).then_some(self.opens_at)
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
