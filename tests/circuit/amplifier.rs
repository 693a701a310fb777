//! Transistor amplifier: a published problem built from parts, the transistor a user's own.

use super::build::{number, numbers, reference, resistor, with_source};
use stallpoint::circuit::{At, Circuit, Part, Power, Stamp, Terminal, TransientOptions, electrical};
use stallpoint::parts::{Capacitor, VoltageSource};

/// A bipolar transistor: emitter current `g(u) = β (exp(u / U_F) - 1)` of the base-emitter voltage, `α` of it collected.
#[derive(Debug, Clone)]
struct Transistor {
    alpha: f64,
    beta: f64,
    uf: f64,
}

const BASE: usize = 0;
const EMITTER: usize = 1;
const COLLECTOR: usize = 2;

impl Part for Transistor {
    fn kind(&self) -> &'static str {
        "transistor"
    }

    fn terminals(&self) -> &[Terminal] {
        const TERMINALS: [Terminal; 3] = [electrical("base"), electrical("emitter"), electrical("collector")];
        &TERMINALS
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let growth = ((at.x(BASE) - at.x(EMITTER)) / self.uf).exp();
        let (current, slope) = (self.beta * (growth - 1.0), self.beta / self.uf * growth);
        for (terminal, share) in [(BASE, 1.0 - self.alpha), (EMITTER, -1.0), (COLLECTOR, self.alpha)] {
            out.f(terminal, share * current);
            out.df(terminal, BASE, share * slope);
            out.df(terminal, EMITTER, -share * slope);
        }
    }

    fn power(&self, at: &At) -> Power {
        let current = self.beta * (((at.x(BASE) - at.x(EMITTER)) / self.uf).exp() - 1.0);
        let base = (at.x(BASE) - at.x(EMITTER)) * (1.0 - self.alpha);
        Power { delivered: 0.0, dissipated: current * (base + (at.x(COLLECTOR) - at.x(EMITTER)) * self.alpha) }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

fn amplifier(data: &toml::Table) -> Circuit {
    let y0 = numbers(data, "y0");
    let c = numbers(data, "C");
    let (r0, r) = (number(data, "R0"), number(data, "R1_to_R9"));
    let transistor = Transistor { alpha: number(data, "alpha"), beta: number(data, "beta"), uf: number(data, "UF") };
    let mut circuit = with_source(VoltageSource::function(|t| 0.1 * (200.0 * std::f64::consts::PI * t).sin()));
    let supply = VoltageSource::constant(number(data, "Ub")).unwrap();
    circuit.add("supply", supply, [("plus", "ub"), ("minus", "ground")]).unwrap();
    resistor(&mut circuit, "r0", r0, "p", "y1");
    let nine = [
        ("y2", "ground"),
        ("y2", "ub"),
        ("y3", "ground"),
        ("y4", "ub"),
        ("y5", "ground"),
        ("y5", "ub"),
        ("y6", "ground"),
        ("y7", "ub"),
        ("y8", "ground"),
    ];
    for (k, (a, b)) in nine.into_iter().enumerate() {
        resistor(&mut circuit, &format!("r{}", k + 1), r, a, b);
    }
    let charged = [
        ("y1", "y2", y0[0] - y0[1]),
        ("y3", "ground", y0[2]),
        ("y4", "y5", y0[3] - y0[4]),
        ("y6", "ground", y0[5]),
        ("y7", "y8", y0[6] - y0[7]),
    ];
    for (k, (a, b, volts)) in charged.into_iter().enumerate() {
        let mut capacitor = Capacitor::new(c[k]).unwrap();
        capacitor.initial_voltage = stallpoint::quantity::Voltage::from_si(volts);
        circuit.add(&format!("c{}", k + 1), capacitor, [("a", a), ("b", b)]).unwrap();
    }
    let first = [("base", "y2"), ("emitter", "y3"), ("collector", "y4")];
    circuit.add("t1", transistor.clone(), first).unwrap();
    circuit.add("t2", transistor, [("base", "y5"), ("emitter", "y6"), ("collector", "y7")]).unwrap();
    circuit
}

#[test]
fn val_transistor_amplifier() {
    let data = reference("solver_problems.toml", "transistor_amplifier");
    let run = amplifier(&data).transient(number(&data, "t_end"), &TransientOptions::rtol(1e-7)).unwrap();
    println!("{:?}", run.counters);
    // Consistent at the start, though only the capacitors' voltages were given.
    for (k, y0) in numbers(&data, "y0").into_iter().enumerate() {
        let found = run.voltage(&format!("y{}", k + 1)).unwrap()[0];
        assert!((found - y0).abs() < 1e-6, "y{} starts at {found}, not {y0}", k + 1);
    }
    for (k, exact) in numbers(&data, "y_ref").into_iter().enumerate() {
        let found = *run.voltage(&format!("y{}", k + 1)).unwrap().last().unwrap();
        println!("y{}: {:e}", k + 1, found / exact - 1.0);
        assert!((found / exact - 1.0).abs() < 1e-6, "y{}: {found} against {exact}", k + 1);
    }
    let residual = run.energy.residual() / run.energy.delivered();
    assert!(residual.abs() < 1e-6, "{residual:e}");
}
