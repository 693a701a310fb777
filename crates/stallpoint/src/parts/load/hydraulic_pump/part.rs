//! The pump as a part.

use super::super::{SHAFT, TERMINALS};
use super::description::HydraulicPump;
use super::modes::{self, Load, Relief};
use crate::circuit::{At, Change, DryFriction, Memory, Pace, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::error::PartError;
use crate::quantity::Pressure;

/// Valves shut this share of the setting below where they opened, or rounding at an event would shut them at once.
const SHUTS: f64 = 1e-6;
const PRESSURE: usize = 1;
const POSITION: usize = 2;
const PROBES: [Probe; 3] = [
    Probe { name: "flow", unit: "m3/s" },
    Probe { name: "relief_flow", unit: "m3/s" },
    Probe { name: "shaft_torque", unit: "N m" },
];
const GUARDS: [&str; 7] = [
    "moves the load forward",
    "moves the load backward",
    "load stands",
    "reaches the forward end",
    "reaches the backward end",
    "relief valve opens",
    "relief valve closes",
];

impl HydraulicPump {
    /// Pressure that the moving load puts against the pump, with its sign.
    fn load_pressure(&self, load: Load) -> f64 {
        match load {
            Load::Forward => self.forward_pressure.si(),
            Load::Backward => -self.reverse_pressure.si(),
            _ => 0.0,
        }
    }

    /// Flow to the load and its derivative by pressure.
    fn load_flow(&self, load: Load, p: f64) -> (f64, f64) {
        let conductance = load.way().abs() * self.line();
        (conductance * (p - self.load_pressure(load)), conductance)
    }

    /// Flow through the relief valve and its derivative by pressure.
    fn relief_flow(&self, relief: Relief, p: f64) -> (f64, f64) {
        let conductance = relief.way().abs() * self.relief();
        (conductance * (p - relief.way() * self.relief_pressure.si()), conductance)
    }

    /// One over the stroke; 0 without an end.
    fn per_stroke(&self) -> f64 {
        self.stroke.map_or(0.0, |stroke| 1.0 / stroke.si())
    }
}

impl Part for HydraulicPump {
    fn kind(&self) -> &'static str {
        "hydraulic pump"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("displacement_per_turn", self.displacement_per_turn)?;
        above_zero("relief_pressure", self.relief_pressure)?;
        let set: Pressure = self.relief_pressure;
        let below = format!("0 Pa or more and below the relief pressure, {set}");
        for (argument, p) in [("forward_pressure", self.forward_pressure), ("reverse_pressure", self.reverse_pressure)]
        {
            in_range(argument, p, p.si() >= 0.0 && p < set, &below)?;
        }
        above_zero("rated_speed", self.rated_speed)?;
        above_zero("line_loss", self.line_loss)?;
        above_zero("leakage", self.leakage)?;
        in_range("leakage", self.leakage, self.leakage.si() < 1.0, "below 1")?;
        above_zero("relief_override", self.relief_override)?;
        let eta = self.mechanical_efficiency.si();
        in_range(
            "mechanical_efficiency",
            self.mechanical_efficiency,
            eta > 0.0 && eta <= 1.0,
            "above 0 and at most 1",
        )?;
        above_zero("oil_volume", self.oil_volume)?;
        above_zero("bulk_modulus", self.bulk_modulus)?;
        if let Some(stroke) = self.stroke {
            above_zero("stroke", stroke)?;
        }
        let share = self.position.si();
        in_range("position", self.position, (0.0..=1.0).contains(&share), "from 0 to 1")?;
        not_negative("inertia", self.inertia)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![
            Unknown::fast("pressure", "Pa", 1e5),
            Unknown { unit: "1", pace: Pace::Accumulator, ..Unknown::slow("position", "1", 1.0, self.position.si()) },
        ]
    }

    fn memory(&self) -> Memory {
        let load = match (self.stroke.is_some(), self.position.si()) {
            (true, 1.0) => Load::ForwardEnd,
            (true, 0.0) => Load::BackwardEnd,
            _ => Load::Held,
        };
        modes::memory(load, Relief::Closed)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (load, relief) = modes::read(at.memory);
        let (d, p) = (self.displacement(), at.x(PRESSURE));
        out.f(SHAFT, d * p);
        out.df(SHAFT, PRESSURE, d);

        // The balance of oil over the displacement, so that its rows are rad/s like the shaft's.
        let ((to_load, load_slope), (relieved, relief_slope)) = (self.load_flow(load, p), self.relief_flow(relief, p));
        let content = self.compliance() / d;
        out.q(PRESSURE, content * p);
        out.dq(PRESSURE, PRESSURE, content);
        out.f(PRESSURE, (self.leak() * p + to_load + relieved) / d - at.x(SHAFT));
        out.df(PRESSURE, PRESSURE, (self.leak() + load_slope + relief_slope) / d);
        out.df(PRESSURE, SHAFT, -1.0);

        let per_stroke = self.per_stroke();
        out.q(POSITION, at.x(POSITION));
        out.dq(POSITION, POSITION, 1.0);
        out.f(POSITION, -to_load * per_stroke);
        out.df(POSITION, PRESSURE, -load_slope * per_stroke);
    }

    fn guards(&self) -> &[&'static str] {
        &GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        let (load, relief) = modes::read(at.memory);
        // As shares of the relief valve's setting.
        let set = self.relief_pressure.si();
        let p = at.x(PRESSURE) / set;
        let (forward, reverse) = (self.forward_pressure.si() / set, self.reverse_pressure.si() / set);
        if matches!(load, Load::Held | Load::BackwardEnd) {
            out[0] = p - forward;
        }
        if matches!(load, Load::Held | Load::ForwardEnd) {
            out[1] = -p - reverse;
        }
        match load {
            Load::Forward => out[2] = forward - p - SHUTS,
            Load::Backward => out[2] = reverse + p - SHUTS,
            _ => {}
        }
        if self.stroke.is_some() {
            match load {
                Load::Forward => out[3] = at.x(POSITION) - 1.0,
                Load::Backward => out[4] = -at.x(POSITION),
                _ => {}
            }
        }
        match relief {
            Relief::Closed => out[5] = p.abs() - 1.0,
            Relief::Forward => out[6] = 1.0 - p - SHUTS,
            Relief::Backward => out[6] = 1.0 + p - SHUTS,
        }
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let (load, relief) = modes::read(at.memory);
        let Trigger::Guard(guard) = trigger else { return };
        let (load, relief) = match (guard, load, relief) {
            (0, Load::Held | Load::BackwardEnd, _) => (Load::Forward, relief),
            (1, Load::Held | Load::ForwardEnd, _) => (Load::Backward, relief),
            (2, Load::Forward | Load::Backward, _) => (Load::Held, relief),
            (3, Load::Forward, _) => (Load::ForwardEnd, relief),
            (4, Load::Backward, _) => (Load::BackwardEnd, relief),
            (5, _, Relief::Closed) if at.x(PRESSURE) > 0.0 => (load, Relief::Forward),
            (5, _, Relief::Closed) => (load, Relief::Backward),
            (6, _, Relief::Forward | Relief::Backward) => (load, Relief::Closed),
            _ => return,
        };
        change.memory = modes::memory(load, relief);
        change.event(GUARDS[guard]);
    }

    fn power(&self, at: &At) -> Power {
        let (load, relief) = modes::read(at.memory);
        let p = at.x(PRESSURE);
        let (to_load, relieved) = (self.load_flow(load, p).0, self.relief_flow(relief, p).0);
        Power {
            delivered: -self.load_pressure(load) * to_load,
            dissipated: self.leak() * p * p + (p - self.load_pressure(load)) * to_load + p * relieved,
        }
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.compliance() * at.x(PRESSURE) * at.x(PRESSURE)
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        let (load, relief) = modes::read(at.memory);
        let p = at.x(PRESSURE);
        match index {
            0 => self.load_flow(load, p).0,
            1 => self.relief_flow(relief, p).0,
            _ => self.torque_at(p),
        }
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn dry_friction_each_way(&self) -> [DryFriction; 2] {
        let loss = 1.0 / self.mechanical_efficiency.si() - 1.0;
        [self.forward_pressure, self.reverse_pressure].map(|pressure| {
            let running = loss * self.torque_at(pressure.si());
            DryFriction { running, breakaway: running }
        })
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
