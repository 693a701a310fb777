//! A compound motor between its two limits.

use super::build::{close, loaded, running, shunt, shunt_on_source, straight, with_source};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::motor::{Armature, CompoundMotor, Field, Rotor, SeriesWinding};

const V: f64 = 230.0;

fn compound(ratio: f64) -> CompoundMotor {
    let shunt = Field::new(75.0, 20.0, straight(0.6)).unwrap();
    let series = SeriesWinding::new(0.02, ratio).unwrap();
    CompoundMotor::new(Armature::new(0.05, 1e-3).unwrap(), shunt, series, Rotor::new(1.0).unwrap())
}

/// Long shunt: the shunt field across the supply, the series field before the armature.
fn circuit(ratio: f64) -> Circuit {
    let mut circuit = with_source(V);
    let wires = [
        ("shunt_plus", "p"),
        ("shunt_minus", "ground"),
        ("series_plus", "p"),
        ("series_minus", "between"),
        ("armature_plus", "between"),
        ("armature_minus", "ground"),
    ];
    circuit.add("motor", compound(ratio), wires).unwrap();
    circuit
}

#[test]
fn exact_running_point_cumulative_and_differential() {
    // K = M (V/R_sh + n i), T = K i, ω = (V - (R_a + R_se) i) / K.
    // Opposing turns must be few, or the locked-rotor current turns the flux round and there are two running points.
    for ratio in [0.01, -0.0005] {
        let i = 100.0;
        let k = 0.6 * (V / 75.0 + ratio * i);
        let op = running(&loaded(circuit(ratio), k * i));
        close(op.current("motor").unwrap(), i, 1e-8, "current");
        close(op.state("motor", "speed").unwrap(), (V - 0.07 * i) / k, 1e-8, "speed");
    }
}

#[test]
fn exact_few_series_turns_make_a_shunt_motor() {
    let plain = shunt(0.07, Field::new(75.0, 20.0, straight(0.6)).unwrap(), 1.0);
    let alone = running(&loaded(shunt_on_source(V, plain), 200.0 - 1e-6));
    let op = running(&loaded(circuit(1e-9), 200.0));
    close(op.state("motor", "speed").unwrap(), alone.state("motor", "speed").unwrap(), 1e-6, "speed");
}

#[test]
fn exact_windings_are_coupled_as_a_transformer() {
    // A current that rises through the series field induces n dλ/dt in it and dλ/dt in the shunt field, which is open but
    // for a resistor: the volts across that are -R i_sh.
    let mut circuit = with_source(1.0);
    let wires = [
        ("shunt_plus", "s"),
        ("shunt_minus", "ground"),
        ("series_plus", "p"),
        ("series_minus", "between"),
        ("armature_plus", "between"),
        ("armature_minus", "ground"),
    ];
    circuit.add("motor", compound(0.01), wires).unwrap();
    super::build::resistor(&mut circuit, "meter", 1e6, "s", "ground");
    let run = loaded(circuit, 1e9).transient(2.0, &TransientOptions::rtol(1e-8)).unwrap();
    let volts = run.voltage("s").unwrap();
    let current = run.state("motor", "series_current").unwrap();
    // In the series field v = R i + n e, so e follows from what the circuit shows outside the motor.
    let at_field = run.voltage_between("p", "between").unwrap();
    for k in (0..run.len()).filter(|&k| run.time()[k] > 1e-3) {
        let induced = (at_field[k] - 0.02 * current[k]) / 0.01;
        assert!((volts[k] - induced * 1e6 / (1e6 + 75.0)).abs() <= 1e-6 * induced.abs() + 1e-7, "{k}");
    }
    assert!(volts.iter().fold(0.0_f64, |most, v| most.max(v.abs())) > 1.0);
}
