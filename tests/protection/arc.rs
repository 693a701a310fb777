//! An arc that the breaker cannot put out.

use crate::support::{assert_close, band, breaker_at, words};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Breaker, Reset, Resistor, VoltageSource};

#[test]
fn exact_it_goes_on_heating_the_strip_that_it_flows_through() {
    // 96 V: the arc at full gap takes 12 V + 10 kV/m · 5 mm = 62 V and 10 mohm; 34 V are left. The strip is in
    // series with it: through 0.48 ohm in all it carries 70.8 A, above the pick-up of 70 A, through 0.49 ohm 69.4 A.
    for (resistance, above) in [(0.48, true), (0.49, false)] {
        let mut circuit = Circuit::new();
        circuit.add("source", VoltageSource::constant("96 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
        let breaker = Breaker { reset: Reset::Automatic, ..breaker_at(0.5) };
        circuit.add("breaker", breaker, [("line", "p"), ("load", "m")]).unwrap();
        let short = Resistor::new(resistance - 10e-3).unwrap();
        circuit.add("load", short, [("a", "m"), ("b", "ground")]).unwrap();
        let run = circuit.transient(300.0, &TransientOptions::rtol(1e-6)).unwrap();
        assert_eq!(words(&run, "breaker")[..2], ["trips", "arc persists at full gap"]);
        let arc = 34.0 / resistance;
        assert_close(*run.current("breaker").unwrap().last().unwrap(), arc, 1e-6, "arc");
        let at = run.sample(&[20.0, 60.0]).unwrap().state("breaker", "trip_fraction").unwrap().to_vec();
        if above {
            assert_close(at[1] - at[0], 40.0 / band().time(0.5, arc / 50.0).unwrap(), 1e-5, "heating");
            assert!(!words(&run, "breaker").contains(&"recloses"));
        } else {
            assert_close(at[1] / at[0], f64::exp(-40.0 / 60.0), 1e-4, "cooling");
            // The strip cools and the contact closes on the fault again: the arc is gone until the next trip.
            assert!(words(&run, "breaker").contains(&"recloses"));
        }
    }
}
