//! The voltage of a coil whose current is taken away, against a printed measurement.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Coil, CurrentSource};

/// A 12 V, 275 ohm coil of 2.29 H that carries 43.6 mA loses it in 0.5 ms: 211.7 V are printed for the opening switch
/// (tests/reference/coil.toml, `inductive_kick`).
#[test]
fn val_a_coil_cut_in_half_a_millisecond_kicks_as_printed() {
    let text = include_str!("../reference/coil.toml");
    let kick = text.parse::<toml::Table>().unwrap()["inductive_kick"].as_table().unwrap().clone();
    assert_eq!(kick["status"].as_str(), Some("verified"));
    let printed = |key: &str| kick[key].as_float().unwrap();
    let (supply, amperes, lasts) = (printed("supply_V"), printed("I_A"), printed("dt_s"));
    let coil = Coil {
        open_inductance: Some(format!("{} H", printed("L_closed_H")).parse().unwrap()),
        core_loss_conductance: "0 S".parse().unwrap(),
        ..Coil::new(supply, printed("R_ohm")).unwrap()
    };
    let mut circuit = Circuit::new();
    let cut = CurrentSource::table(vec![0.0, 0.1, 0.1 + lasts, 0.2], vec![amperes, amperes, 0.0, 0.0]).unwrap();
    circuit.add("switch", cut, [("plus", "ground"), ("minus", "coil")]).unwrap();
    circuit.add("coil", coil, [("plus", "coil"), ("minus", "ground")]).unwrap();
    let run = circuit.transient(0.2, &TransientOptions::rtol(1e-7)).unwrap();
    // The rows, not `extremes`: a current source that turns a corner into a coil is of index two, and the dense output of
    // the step after the corner swings 57 V too far.
    let lowest = run.voltage("coil").unwrap().into_iter().fold(0.0, f64::min);
    let across = supply - lowest;
    // The printed current has three digits.
    assert!((across / printed("peak_V") - 1.0).abs() < 1e-3, "{across} V");
}
