//! Half-wave rectifier: a Shockley diode with a resistor has a closed form in Lambert's W.

use super::build::{resistor, with_source};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{Diode, VoltageSource};

/// Lambert's W of `exp(y)`: the solution of `w + ln w = y` (Corless et al., Adv. Comput. Math. 5 (1996) 329), by Newton.
fn lambert_of_exp(y: f64) -> f64 {
    let mut w = if y > 1.0 { y - y.ln() } else { y.exp() / (1.0 + y.exp()) };
    for _ in 0..50 {
        let step = (w + w.ln() - y) / (1.0 + 1.0 / w);
        w = (w - step).max(0.1 * w);
    }
    w
}

#[test]
fn exact_half_wave_rectifier() {
    let (volts, ohms) = (10.0, 50.0);
    let diode = Diode::default();
    let (is, nvt) = (diode.saturation_current.si(), diode.slope_voltage.si());
    let current = |v: f64| nvt / ohms * lambert_of_exp((is * ohms / nvt).ln() + (v + is * ohms) / nvt) - is;
    let wave = move |t: f64| volts * (100.0 * std::f64::consts::PI * t).sin();
    let mut circuit = with_source(VoltageSource::function(wave));
    circuit.add("diode", diode, [("anode", "p"), ("cathode", "m")]).unwrap();
    resistor(&mut circuit, "load", ohms, "m", "ground");
    for rtol in [1e-4, 1e-6, 1e-8] {
        let run = circuit.transient(0.04, &TransientOptions::rtol(rtol)).unwrap();
        let mut worst = 0.0_f64;
        for (&t, i) in run.time().iter().zip(run.current("diode").unwrap()) {
            let exact = current(wave(t));
            worst = worst.max((i - exact).abs() / exact.abs().max(1e-4));
        }
        // Between the steps: the drop across the load, within ten tolerances.
        let grid: Vec<f64> = (0..997).map(|k| 0.04 * f64::from(k) / 996.0).collect();
        let mut between = 0.0_f64;
        for (&t, v) in grid.iter().zip(run.sample(&grid).unwrap().voltage("m").unwrap()) {
            let exact = ohms * current(wave(t));
            between = between.max((v - exact).abs() / (rtol * exact.abs().max(1.0)));
        }
        println!("{rtol:e}: rows {worst:e}, between {between}, {:?}", run.counters);
        assert!(worst < 0.1 * rtol.max(1e-7), "{rtol:e}: {worst:e}");
        assert!(between < 10.0, "{rtol:e}: {between} tolerances");
    }
    // Blocked: the saturation current and no more.
    let op = |v: f64| {
        let mut circuit = with_source(VoltageSource::constant(v).unwrap());
        circuit.add("diode", Diode::default(), [("anode", "p"), ("cathode", "m")]).unwrap();
        resistor(&mut circuit, "load", ohms, "m", "ground");
        circuit.operating_point().unwrap().current("diode").unwrap()
    };
    assert!((op(-10.0) / -is - 1.0).abs() < 1e-6);
    for v in [0.1, 0.5, 1.0, 10.0] {
        assert!((op(v) / current(v) - 1.0).abs() < 1e-6, "{v} V");
    }
}
