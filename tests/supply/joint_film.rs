//! A film in a joint: a poor conductor for a lamp, broken down by a motor's current. Against Ohm's law.

use crate::support::{assert_close, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Run, TransientOptions};
use stallpoint::parts::{CurrentSource, Film, Inductor, Joint, Resistor, VoltageSource};

/// 60 mohm once broken down, 3 ohm of film that stands 5 V.
fn filmed(reforms_below: Option<&str>) -> Joint {
    let film = Film { reforms_below: reforms_below.map(|text| text.parse().unwrap()), ..Film::default() };
    Joint { film: Some(film), ..Joint::new("60 mohm").unwrap() }
}

fn on_12_v(load: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", filmed(None), [("a", "p"), ("b", "stud")]).unwrap();
    circuit.add("load", Resistor::new(load).unwrap(), [("a", "stud"), ("b", "ground")]).unwrap();
    circuit
}

/// Both regimes of a bad joint: ohms for a lamp or coil, a voltmeter that sees nothing, milliohms for a motor.
#[test]
fn exact_a_light_load_finds_ohms_and_a_heavy_one_milliohms() {
    let stud = |load: &str| on_12_v(load).operating_point().unwrap().voltage("stud").unwrap();
    assert_close(stud("10 Mohm"), 12.0 * 1e7 / (1e7 + 3.06), 1e-9, "voltmeter");
    assert_close(stud("6.857 ohm"), 12.0 * 6.857 / (6.857 + 3.06), 1e-9, "21 W lamp");
    assert_close(stud("0.1 ohm"), 12.0 * 0.1 / 0.16, 1e-9, "motor");
}

/// A current that rises and falls between 4 A and -4 A in 4 s, through the joint.
fn triangle(joint: Joint) -> Run {
    let mut circuit = Circuit::new();
    let source = CurrentSource::table([0.0, 1.0, 3.0, 4.0], [0.0, 4.0, -4.0, 0.0]).unwrap();
    circuit.add("source", source, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("joint", joint, [("a", "p"), ("b", "ground")]).unwrap();
    circuit.transient(4.0, &TransientOptions::rtol(1e-8)).unwrap()
}

#[test]
fn exact_it_breaks_down_and_reforms_at_its_currents() {
    let run = triangle(filmed(Some("0.5 A")));
    let expected = [
        (5.0 / 12.0, "film breaks down"),
        (2.0 - 0.125, "film is whole again"),
        (2.0 + 5.0 / 12.0, "film breaks down"),
        (4.0 - 0.125, "film is whole again"),
    ];
    assert_eq!(run.events.len(), expected.len());
    for (event, (time, what)) in run.events.iter().zip(expected) {
        assert_eq!(event.what, what);
        assert_close(event.time, time, 1e-8, what);
    }
    for (t, ohms) in [(0.3, 3.06), (0.5, 0.06), (1.8, 0.06), (2.2, 3.06), (3.0, 0.06), (3.95, 3.06)] {
        let now = run.sample(&[t]).unwrap();
        let (v, i) = (now.voltage("p").unwrap()[0], now.current("joint").unwrap()[0]);
        assert_close(v, ohms * i, 1e-9, &format!("at {t} s"));
    }
    assert_energy_adds_up(&run, 1e-8);
}

#[test]
fn exact_it_stays_broken_down_when_nothing_reforms_it() {
    let run = triangle(filmed(None));
    assert_eq!(run.events.len(), 1, "{:?}", run.events);
    let now = run.sample(&[2.2]).unwrap();
    assert_close(now.voltage("p").unwrap()[0], 0.06 * -0.8, 1e-9, "voltage");
}

/// With an inductance the current goes on through the break: the voltage falls, not the current.
#[test]
fn exact_the_break_is_when_the_inductance_lets_it() {
    let mut circuit = on_12_v("1 ohm");
    circuit.add("second", VoltageSource::constant("12 V").unwrap(), [("plus", "q"), ("minus", "ground")]).unwrap();
    circuit.add("film", filmed(None), [("a", "q"), ("b", "r")]).unwrap();
    circuit.add("winding", Resistor::new("0.1 ohm").unwrap(), [("a", "r"), ("b", "w")]).unwrap();
    circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "w"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(1e-8)).unwrap();
    // i = 12 V / 3.16 ohm (1 - exp(-t R / L)) reaches 5/3 A; then 12 V / 0.16 ohm from there.
    let at = -1e-3 / 3.16 * (1.0 - 5.0 / 3.0 * 3.16 / 12.0_f64).ln();
    let event = run.events.iter().find(|event| event.part == "film").unwrap();
    assert_close(event.time, at, 1e-6, "break");
    let end = 12.0 / 0.16;
    let exact = end + (5.0 / 3.0 - end) * (-(0.05 - at) * 160.0).exp();
    assert_close(run.sample(&[0.05]).unwrap().current("coil").unwrap()[0], exact, 1e-6, "after it");
}

#[test]
fn exact_reads_back_from_a_file_and_refuses_by_name() {
    let joint = filmed(Some("0.5 A"));
    assert_eq!(toml::from_str::<Joint>(&toml::to_string(&joint).unwrap()).unwrap(), joint);
    // 5 V across 3 ohm: above 1.67 A it would break down as soon as it is whole.
    let error = Circuit::new().add("j", filmed(Some("2 A")), [("a", "p"), ("b", "ground")]).unwrap_err().to_string();
    assert!(
        error.starts_with("part \"j\" (joint): `film.reforms_below` is 2 A, but must be above 0 A and below 1.66"),
        "{error}"
    );
}
