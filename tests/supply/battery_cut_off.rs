//! The cut-off of a battery's management.

use crate::support::{assert_close, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, ConformanceOptions, Run, TransientOptions, check_part};
use stallpoint::parts::{Battery, CurrentSource, CutOff, Inductor, Resistor, VoltageSource};

fn pack(cut_off: CutOff) -> Battery {
    Battery { cut_off: Some(cut_off), ..Battery::lithium_iron_phosphate("100 Ah", "4 mohm").unwrap() }
}

fn on(battery: Battery) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("battery", battery, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

fn events(run: &Run) -> Vec<String> {
    run.events.iter().map(|event| format!("{:.3} {}", event.time, event.what)).collect()
}

/// A current that rises from 0 to 400 A in 4 s passes 200 A at 2 s; the cut-off follows 0.1 s later.
#[test]
fn exact_over_current_opens_after_its_delay() {
    let mut circuit = on(pack(CutOff::new("200 A", "8 V").unwrap()));
    let ramp = CurrentSource::table([0.0, 4.0], [0.0, 400.0]).unwrap();
    circuit.add("load", ramp, [("plus", "p"), ("minus", "ground")]).unwrap();
    // Takes the source's current over when the battery has opened.
    circuit.add("beside", Resistor::new("1 ohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let options = TransientOptions::rtol(1e-6);
    let run = circuit.transient(1.9, &options).unwrap();
    assert_eq!(events(&run).len(), 1);
    let run = circuit.transient(2.5, &options).unwrap();
    // The resistor beside takes some 13 A of its own, so the battery passes 200 A at 1.87 s or so.
    let start = run.events[0].time;
    let at = |name: &str, t: f64| run.sample(&[t]).unwrap().state("battery", name).unwrap()[0];
    assert_close(-at("current", start - 1e-9), 200.0, 1e-6, "current when it begins");
    assert_eq!(run.events[1].what, "cuts off: over-current");
    assert_close(run.events[1].time, start + 0.1, 1e-9, "cut-off");
    assert_eq!(at("connected", 2.5), 0.0);
}

#[test]
fn exact_a_short_surge_passes() {
    let cut_off = CutOff::new("200 A", "8 V").unwrap();
    let mut circuit = on(pack(cut_off));
    let surge = CurrentSource::table([0.0, 1.0, 1.001, 1.05, 1.051, 3.0], [50.0, 50.0, 350.0, 350.0, 50.0, 50.0]);
    circuit.add("load", surge.unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let run = circuit.transient(3.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert_eq!(events(&run), ["1.000 current above 200 A"]);
    assert_eq!(*run.state("battery", "connected").unwrap().last().unwrap(), 1.0);
}

#[test]
fn exact_under_voltage_opens_after_its_delay() {
    // Near empty the voltage falls by 2 V for a tenth of the charge: 10 A sag by 40 mV.
    let cut_off = CutOff { under_voltage_delay: "5 s".parse().unwrap(), ..CutOff::new("200 A", "11 V").unwrap() };
    let battery = Battery { state_of_charge: "8 %".parse().unwrap(), ..pack(cut_off) };
    let mut circuit = on(battery);
    circuit.add("load", Resistor::new("1.2 ohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(3600.0, &TransientOptions::rtol(1e-8)).unwrap();
    assert_eq!(run.events[0].what, "voltage below 11 V");
    // Q R' dsoc/dt = -(10 + 20 soc): from 11.6 V to 11 V · R'/R with R' = 1.204 ohm.
    let open = 11.0 * 1.204 / 1.2;
    let time = 360e3 * 1.204 / 20.0 * f64::ln(11.6 / open);
    assert_close(run.events[0].time, time, 1e-6, "below");
    assert_close(run.events[1].time, time + 5.0, 1e-6, "cut-off");
    assert_eq!(run.events[1].what, "cuts off: under-voltage");
    // 0.1 mS of 11 V.
    assert!(run.current("load").unwrap().last().unwrap().abs() < 1.2e-3);
    assert_energy_adds_up(&run, 1e-6);
}

#[test]
fn exact_a_motors_current_goes_through_the_open_transistors() {
    let mut circuit = on(pack(CutOff::new("100 A", "8 V").unwrap()));
    circuit.add("load", Resistor::new("50 mohm").unwrap(), [("a", "p"), ("b", "m")]).unwrap();
    circuit.add("coil", Inductor::new("150 uH").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    for rtol in [1e-4, 1e-6] {
        let run = circuit.transient(0.2, &TransientOptions::rtol(rtol)).unwrap();
        assert_eq!(run.events.last().unwrap().what, "cuts off: over-current");
        assert!(run.counters.steps < 2000, "{:?}", run.counters);
        let least = run.voltage("p").unwrap().into_iter().fold(f64::INFINITY, f64::min);
        // The clamp of 30 V, and at 100 S a little above it, below the cells' 13 V.
        assert!(least < 13.6 - 30.0 && least > 12.0 - 30.0 - 4.0, "{least}");
        let left = *run.current("coil").unwrap().last().unwrap();
        // 0.1 mS of the cells' 13.6 V, and the tolerance of a current, rtol of 1 A.
        assert!(left.abs() < 1.4e-3 + rtol, "{left}");
        assert_energy_adds_up(&run, rtol);
    }
}

#[test]
fn exact_it_reconnects_and_cuts_off_again() {
    let cut_off = CutOff { reconnects_after: Some("1 s".parse().unwrap()), ..CutOff::new("100 A", "8 V").unwrap() };
    let mut circuit = on(pack(cut_off));
    circuit.add("load", Resistor::new("50 mohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(3.0, &TransientOptions::rtol(1e-6)).unwrap();
    let expected = [
        "0.000 current above 100 A",
        "0.100 cuts off: over-current",
        "1.100 reconnects",
        "1.100 current above 100 A",
        "1.200 cuts off: over-current",
        "2.200 reconnects",
        "2.200 current above 100 A",
        "2.300 cuts off: over-current",
    ];
    assert_eq!(events(&run), expected);
}

#[test]
fn exact_an_open_pack_still_takes_a_charge() {
    let battery = Battery { state_of_charge: "5 %".parse().unwrap(), ..pack(CutOff::new("100 A", "12 V").unwrap()) };
    let mut circuit = on(battery);
    // A load for 2 s, then a charger behind 0.1 ohm.
    let charger = VoltageSource::table([0.0, 3.0, 3.01], [10.0, 10.0, 14.4]).unwrap();
    circuit.add("charger", charger, [("plus", "c"), ("minus", "ground")]).unwrap();
    circuit.add("lead", Resistor::new("0.1 ohm").unwrap(), [("a", "c"), ("b", "p")]).unwrap();
    let run = circuit.transient(10.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert!(run.events.iter().any(|event| event.what == "cuts off: under-voltage"));
    let at = |t: f64| run.sample(&[t]).unwrap().state("battery", "current").unwrap()[0];
    assert!(at(2.9).abs() < 1.2e-3 && at(9.0) > 20.0, "{} {}", at(2.9), at(9.0));
}

#[test]
fn prop_packs_with_a_cut_off_conform() {
    let slow = pack(CutOff { reconnects_after: Some("1 s".parse().unwrap()), ..CutOff::new("1 A", "8 V").unwrap() });
    let at_once = pack(CutOff {
        over_current_delay: "0 s".parse().unwrap(),
        under_voltage_delay: "0 s".parse().unwrap(),
        ..CutOff::new("1 A", "8 V").unwrap()
    });
    for (battery, modes) in [(slow, vec![0, 1, 2, 4, 6]), (at_once, vec![0, 1])] {
        let mut found = check_part(&battery, &ConformanceOptions { own: 5.0, ..Default::default() }).unwrap();
        found.modes.sort_unstable();
        assert_eq!(found.modes, modes);
        assert!(found.is_source && found.balanced);
    }
}
