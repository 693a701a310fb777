use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::*;
use super::drive::*;
#[test]
fn tmp_residuals() {
    for rtol in [1e-3,1e-4, 1e-5, 1e-6, 1e-7,1e-8] {
        let mut circuit = Circuit::new();
        circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
        circuit.add("coil", plain_coil(), [("plus", "p"), ("minus", "ground")]).unwrap();
        let run = circuit.transient(0.03, &TransientOptions::rtol(rtol)).unwrap();
        let mut l = Circuit::new();
        l.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
        l.add("r", Resistor::new("24 ohm").unwrap(), [("a", "p"), ("b", "m")]).unwrap();
        l.add("l", Inductor::new("0.12 H").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
        let run2 = l.transient(0.03, &TransientOptions::rtol(rtol)).unwrap();
        let r3 = control_and_power(contactor(RestPosition::Braked), VoltageSource::constant("12.6 V").unwrap(), pulses(&[])).transient(0.1, &TransientOptions::rtol(rtol)).unwrap();
        let r4 = control_and_power(contactor(RestPosition::Braked), pulses(&[(0.01,0.1)]), pulses(&[])).transient(0.2, &TransientOptions::rtol(rtol)).unwrap();
        let r5 = with_motor(contactor(RestPosition::Braked), pulses(&[(0.0,0.5)]), pulses(&[(0.51,1.2)])).transient(1.5, &TransientOptions::rtol(rtol)).unwrap();
        let c5 = { let c = contactor(RestPosition::Braked); ReversingContactor { bounce: vec![], ..c } };
        let r6 = with_motor(c5, pulses(&[(0.0,0.5)]), pulses(&[(0.51,1.2)])).transient(1.5, &TransientOptions::rtol(rtol)).unwrap();
        for r in [&run,&run2,&r3,&r4,&r5,&r6] { print!("{:.2e} ({}) ", r.energy.residual()/r.energy.delivered()/rtol, r.counters.steps); }
        println!("  at {rtol:e}");
        if rtol == 1e-6 || rtol==1e-4 { for p in &r5.energy.parts { println!("   {p:?} {:e}", p.delivered-p.dissipated-p.stored-p.lost_at_jumps); } }
    }
}
