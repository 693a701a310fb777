//! Switch and isolator.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Memory, Part, TransientOptions};
use stallpoint::parts::{Resistor, Switch, VoltageSource};

fn lamp_behind(switch: Switch) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("switch", switch, [("a", "p"), ("b", "m")]).unwrap();
    circuit.add("load", Resistor::new("6 ohm").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    circuit
}

fn closed_current() -> f64 {
    12.0 / (6.0 + 0.3e-3)
}

fn events(circuit: &Circuit, until: f64) -> Vec<(f64, String)> {
    let run = circuit.transient(until, &TransientOptions::rtol(1e-6)).unwrap();
    assert_energy_adds_up(&run, 1e-6);
    let what = run.events.into_iter().filter(|event| ["opens", "closes"].contains(&&*event.what));
    what.map(|event| (event.time, event.what)).collect()
}

#[test]
fn exact_closed_and_open() {
    let op = lamp_behind(Switch::default()).operating_point().unwrap();
    assert_close(op.current("switch").unwrap(), closed_current(), 1e-12, "closed");
    assert_eq!(op.state("switch", "closed").unwrap(), 1.0);
    let op = lamp_behind(Switch::open()).operating_point().unwrap();
    assert_close(op.current("switch").unwrap(), 12e-9, 1e-8, "open");
    assert_eq!(op.state("switch", "closed").unwrap(), 0.0);
}

#[test]
fn exact_opens_and_closes_once_in_either_order() {
    let at = |opens: &str, closes: &str, closed| Switch {
        opens_at: Some(opens.parse().unwrap()),
        closes_at: Some(closes.parse().unwrap()),
        closed,
        ..Switch::default()
    };
    let wanted = |first: &str, second: &str| [(0.25, first.to_string()), (0.5, second.to_string())];
    assert_eq!(events(&lamp_behind(at("0.25 s", "0.5 s", true)), 1.0), wanted("opens", "closes"));
    assert_eq!(events(&lamp_behind(at("0.5 s", "0.25 s", false)), 1.0), wanted("closes", "opens"));
    // What it is already, it need not become.
    assert_eq!(events(&lamp_behind(at("0.25 s", "0.5 s", false)), 1.0), [(0.5, "closes".to_string())]);
}

#[test]
fn exact_schedule_closes_in_its_spans_only() {
    let switch = Switch::worked([(0.0, 0.1), (0.1, 0.2), (0.5, 0.7)]);
    assert_eq!(switch.schedule.len(), 2);
    let circuit = lamp_behind(switch);
    let wanted = [(0.2, "opens"), (0.5, "closes"), (0.7, "opens")].map(|(t, what)| (t, what.to_string()));
    assert_eq!(events(&circuit, 1.0), wanted);
    let run = circuit.transient(1.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert!(run.time()[1] > 0.0, "being closed from the start is no event");
    let sampled = run.sample(&[0.15, 0.3, 0.6, 0.9]).unwrap().current("load").unwrap();
    for (current, closed) in sampled.into_iter().zip([true, false, true, false]) {
        if closed {
            assert_close(current, closed_current(), 1e-9, "closed");
        } else {
            assert_close(current, 12e-9, 1e-6, "open");
        }
    }
    assert!(events(&lamp_behind(Switch::worked([])), 1.0).is_empty());
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    for switch in [Switch::default(), Switch::open()] {
        let memory: Memory = switch.memory();
        assert_derivatives(&switch, &[12.0, 11.0, 3.0], &memory);
    }
}

#[test]
fn exact_reads_back_from_a_file() {
    assert_eq!(toml::from_str::<Switch>("").unwrap(), Switch::default());
    let switch: Switch = toml::from_str("closed = false\nschedule = [['0.5 s', '1 s'], [2, 3]]").unwrap();
    assert_eq!(switch, Switch::worked([(0.5, 1.0), (2.0, 3.0)]));
    assert_eq!(toml::from_str::<Switch>(&toml::to_string(&switch).unwrap()).unwrap(), switch);
}

#[test]
fn exact_refusals_name_the_argument() {
    let refused = |switch: Switch| {
        let error = Circuit::new().add("isolator", switch, [("a", "p"), ("b", "ground")]).unwrap_err();
        error.to_string()
    };
    assert_eq!(
        refused(Switch::worked([(1.0, 0.5)])),
        "part \"isolator\" (switch): `schedule` is 0.5 s, but must be later than the start of its span at 1 s"
    );
    assert_eq!(
        refused(Switch::worked([(1.0, 2.0), (1.5, 3.0)])),
        "part \"isolator\" (switch): `schedule` is 1.5 s, but must be later than the end of the span before at 2 s"
    );
    let at = |time: &str| Some(time.parse().unwrap());
    assert_eq!(
        refused(Switch { opens_at: at("1 s"), ..Switch::worked([(1.0, 2.0)]) }),
        "part \"isolator\" (switch): `opens_at` is given beside a `schedule`; put all times into the schedule, or leave it out"
    );
    assert_eq!(
        refused(Switch { opens_at: at("-1 s"), ..Switch::default() }),
        "part \"isolator\" (switch): `opens_at` is -1 s, but must be 0 s or more"
    );
    assert_eq!(
        refused(Switch { opens_at: at("1 s"), closes_at: at("1 s"), ..Switch::default() }),
        "part \"isolator\" (switch): `opens_at` and `closes_at` are the same time; make them differ, or leave both out"
    );
}
