//! Crossings of a level on the dense output of a run.

use super::build::{resistor, with_source};
use super::switching_parts::Timer;
use stallpoint::circuit::{Run, Signal, TransientOptions};
use stallpoint::parts::VoltageSource;

fn crossing(run: &Run, level: f64, rising: bool, from: f64) -> Option<f64> {
    run.crossing(&Signal::Voltage("m".into()), level, rising, from).unwrap()
}

#[test]
fn exact_crossings_of_a_sine() {
    let mut circuit = with_source(VoltageSource::function(|t| 20.0 * (10.0 * t).sin()));
    resistor(&mut circuit, "upper", 1.0, "p", "m");
    resistor(&mut circuit, "lower", 1.0, "m", "ground");
    let run = circuit.transient(1.0, &TransientOptions::rtol(1e-4)).unwrap();
    // v = 10 sin 10 t; 9.99 lies so near the peak that both crossings may fall into one step.
    for level in [0.5, 5.0, 9.9, 9.99] {
        let up = (level / 10.0_f64).asin() / 10.0;
        let exact = [
            (true, 0.0, up),
            (false, 0.0, std::f64::consts::PI / 10.0 - up),
            (true, 0.3, std::f64::consts::PI / 5.0 + up),
        ];
        for (rising, from, exact) in exact {
            let found = crossing(&run, level, rising, from).unwrap();
            // An error of ten tolerances over the slope there.
            let slope = 100.0 * (10.0 * exact).cos().abs();
            assert!((found - exact).abs() < 1e-3 * 10.0 / slope, "{level}, {rising}: {found} against {exact}");
        }
    }
    assert_eq!(crossing(&run, 10.1, true, 0.0), None);
    assert_eq!(crossing(&run, 5.0, true, 0.9), None);
}

#[test]
fn exact_a_jump_at_an_event_is_a_crossing() {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "lead", 1.0, "p", "m");
    circuit.add("timer", Timer { times: vec![0.2, 0.6], slipping: false }, [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(1.0, &TransientOptions::default()).unwrap();
    assert_eq!(crossing(&run, 9.0, false, 0.0), Some(0.2));
    assert_eq!(crossing(&run, 9.0, true, 0.0), Some(0.6));
    assert_eq!(crossing(&run, 9.0, false, 0.3), None);
}
