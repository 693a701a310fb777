//! The conformance check on the rest of the library, and on parts that break the contract.

use stallpoint::circuit::{
    At, Change, ConformanceOptions, Memory, Part, Power, Stamp, Terminal, Trigger, check_part, electrical,
};
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::parts::{
    Capacitor, Coil, Diode, Inductor, Joint, Resistor, Switch, TestLamp, VoltageSource, Voltmeter,
};

#[test]
fn prop_parts_of_the_boat_lift_conform() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let mut parts: Vec<(&str, &dyn Part)> = vec![
        ("battery", &drive.battery),
        ("isolator", &drive.isolator),
        ("breaker", drive.breaker.as_ref().unwrap()),
        ("supply cable", &drive.supply_cable),
        ("contactor", &drive.contactor),
        ("coil", &drive.contactor.coil),
        ("motor", drive.motor.part()),
    ];
    parts.extend(drive.load.iter().map(|load| ("load", load.part())));
    parts.extend(drive.joints.values().map(|joint| ("joint", joint as &dyn Part)));
    let mut failed = Vec::new();
    for (name, part) in parts {
        match check_part(part, &ConformanceOptions::default()) {
            Ok(found) => println!("{name}: {found:?}"),
            Err(error) => failed.push(format!("{name}: {error}")),
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn prop_simple_parts_conform() {
    let parts: Vec<Box<dyn Part>> = vec![
        Box::new(Resistor::new(2.0).unwrap()),
        Box::new(Inductor::new(1e-3).unwrap()),
        Box::new(Capacitor::new(1e-3).unwrap()),
        Box::new(Diode::default()),
        Box::new(Joint::default()),
        Box::new(Switch::default()),
        Box::new(VoltageSource::constant(12.0).unwrap()),
        Box::new(Voltmeter::default()),
        Box::new(TestLamp::new("12 V", "21 W").unwrap()),
        Box::new(Coil::new("12 V", "8 ohm").unwrap()),
    ];
    let mut failed = Vec::new();
    for part in parts {
        match check_part(&*part, &ConformanceOptions::default()) {
            Ok(found) => println!("{}: {found:?}", part.kind()),
            Err(error) => failed.push(error.to_string()),
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

/// A resistor with one mistake.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Mistake {
    Slope,
    Heat,
    Kirchhoff,
    Guard,
    LateEntry,
    Time,
    Name,
}

#[derive(Debug, Clone)]
struct Wrong(Mistake);

const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const TWINS: [Terminal; 2] = [electrical("a"), electrical("a")];

impl Part for Wrong {
    fn kind(&self) -> &'static str {
        "wrong resistor"
    }
    fn terminals(&self) -> &[Terminal] {
        if self.0 == Mistake::Name { &TWINS } else { &TERMINALS }
    }
    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let i = at.x(0) - at.x(1);
        out.f(0, i);
        out.f(1, if self.0 == Mistake::Kirchhoff { -0.9 * i } else { -i });
        let back = if self.0 == Mistake::Kirchhoff { 0.9 } else { 1.0 };
        out.df(0, 0, if self.0 == Mistake::Slope { 1.001 } else { 1.0 });
        out.df(0, 1, -1.0);
        out.df(1, 0, -back);
        if self.0 != Mistake::LateEntry || at.memory.mode == 1 {
            out.df(1, 1, back);
        }
    }
    fn power(&self, at: &At) -> Power {
        let i = at.x(0) - at.x(1);
        Power { delivered: 0.0, dissipated: if self.0 == Mistake::Heat { 0.5 * i * i } else { i * i } }
    }
    fn guards(&self) -> &[&'static str] {
        &["heats"]
    }
    fn guard_values(&self, at: &At, out: &mut [f64]) {
        let concerned = at.memory.mode == 0 || self.0 == Mistake::Guard;
        out[0] = if concerned { at.x(0) - at.x(1) - 1.0 } else { -1.0 };
    }
    fn next_time(&self, memory: &Memory) -> Option<f64> {
        (self.0 == Mistake::Time && memory.mode == 0).then_some(1.0)
    }
    fn change(&self, trigger: Trigger, _: &At, change: &mut Change) {
        if trigger == Trigger::Guard(0) {
            change.memory.mode = 1;
        }
    }
    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

#[test]
fn exact_each_mistake_is_found() {
    for (mistake, word) in [
        (Mistake::Slope, "derivative: "),
        (Mistake::Heat, "energy: "),
        (Mistake::Kirchhoff, "currents: "),
        (Mistake::Guard, "guards: "),
        (Mistake::LateEntry, "entries: "),
        (Mistake::Time, "times: "),
        (Mistake::Name, "terminals: "),
    ] {
        let error = check_part(&Wrong(mistake), &ConformanceOptions::default()).unwrap_err();
        println!("{error}");
        assert!(error.findings.iter().any(|finding| finding.starts_with(word)), "{mistake:?}: {error}");
    }
}
