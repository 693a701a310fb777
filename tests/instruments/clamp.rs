//! The clamp ammeter: as a wire in the circuit, and round a part of a finished run.

use crate::support::assert_close;
use stallpoint::TransientOptions;
use stallpoint::circuit::{Circuit, Run};
use stallpoint::drive::{BOAT_LIFT, Direction, Drive, StartOptions};
use stallpoint::parts::{ClampAmmeter, CurrentSource, Inductor, Resistor, VoltageSource};

const V: f64 = 12.0;
const R: f64 = 0.1;
const L: f64 = 1e-3;

fn coil_on_a_source() -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant(V).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("clamp", ClampAmmeter::new("100 Hz").unwrap(), [("a", "p"), ("b", "q")]).unwrap();
    circuit.add("resistor", Resistor::new(R).unwrap(), [("a", "q"), ("b", "r")]).unwrap();
    circuit.add("inductor", Inductor::new(L).unwrap(), [("a", "r"), ("b", "ground")]).unwrap();
    circuit
}

/// The low-pass of `I (1 - exp(-t/a))`: `I (1 - (a exp(-t/a) - τ exp(-t/τ)) / (a - τ))`.
fn shown(t: f64, tau: f64) -> f64 {
    let a = L / R;
    V / R * (1.0 - (a * (-t / a).exp() - tau * (-t / tau).exp()) / (a - tau))
}

fn run() -> Run {
    coil_on_a_source().transient(0.05, &TransientOptions::rtol(1e-8)).unwrap()
}

#[test]
fn exact_reading_as_a_part_and_afterwards() {
    let run = run();
    let clamp = ClampAmmeter::new("100 Hz").unwrap();
    let tau = clamp.time_constant();
    for (t, y) in run.time().iter().zip(run.state("clamp", "reading").unwrap()) {
        assert!((y - shown(*t, tau)).abs() < 1e-5 * V / R, "{t}: {y} {}", shown(*t, tau));
    }
    let (times, readings) = clamp.read_run(&run, "inductor").unwrap();
    assert!(times.windows(2).all(|pair| pair[1] > pair[0]));
    for (t, y) in times.iter().zip(readings) {
        assert!((y - shown(*t, tau)).abs() < 1e-3 * V / R, "{t}: {y} {}", shown(*t, tau));
    }
    assert_close(clamp.read(&coil_on_a_source(), "inductor").unwrap().value, V / R, 1e-9, "settled");
}

/// A pulse far shorter than the clamp's time constant shows as its charge over the time constant.
#[test]
fn exact_a_short_pulse_is_lost() {
    let mut circuit = Circuit::new();
    let pulse = CurrentSource::table(vec![0.0, 0.01, 0.0101, 0.0102, 1.0], vec![0.0, 0.0, 100.0, 0.0, 0.0]).unwrap();
    circuit.add("source", pulse, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("resistor", Resistor::new(1.0).unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(1e-8)).unwrap();
    let slow = ClampAmmeter::new("2 Hz").unwrap();
    let peak = slow.peak_hold(&run, "resistor", 0.0).unwrap();
    let charge = 100.0 * 0.1e-3;
    assert_close(peak.reading.value, charge / slow.time_constant(), 2e-3, "slow");
    let fast = ClampAmmeter::new("1 MHz").unwrap().peak_hold(&run, "resistor", 0.0).unwrap();
    assert_close(fast.reading.value, 100.0, 5e-3, "fast");
    assert!((fast.at - 0.0101).abs() < 2e-5);
}

#[test]
fn exact_the_window_counts() {
    let run = run();
    let clamp = ClampAmmeter { peak_window: "5 ms".parse().unwrap(), ..ClampAmmeter::new("1 kHz").unwrap() };
    let peak = clamp.peak_hold(&run, "inductor", 0.01).unwrap();
    assert!((peak.at - 0.015).abs() < 1e-3, "a rising current is largest at the window's end: {}", peak.at);
    assert_close(peak.reading.value, shown(peak.at, clamp.time_constant()), 1e-3, "at its end");
    assert_eq!(
        clamp.peak_hold(&run, "inductor", 1.0).unwrap_err().to_string(),
        "`from` is 1 s, but must be a time within the run"
    );
}

/// On the boat lift: the surge that a clamp of 100 Hz and one of 10 kHz hold.
#[test]
fn prop_a_slow_clamp_shows_less_of_the_surge() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let start = drive.start(Direction::Forward, &StartOptions::hold("0.5 s").unwrap()).unwrap();
    let peak = |hertz: f64| {
        let clamp = ClampAmmeter { peak_window: "0.5 s".parse().unwrap(), ..ClampAmmeter::new(hertz).unwrap() };
        clamp.peak_hold(&start.run, "breaker", 0.0).unwrap().reading.value
    };
    let (slow, fast) = (peak(10.0), peak(1e4));
    println!("surge {} A; 10 Hz {slow} A, 10 kHz {fast} A", start.surge.peak_current);
    assert!(slow < 0.95 * fast && fast <= start.surge.peak_current * 1.001);
    assert_close(fast, start.surge.peak_current, 0.01, "10 kHz");
}
