//! A motor reversed while it still turns.

use stallpoint::circuit::{Signal, TransientOptions};
use stallpoint::parts::RestPosition;

use super::drive::{assert_sound, contactor, events_of, highest, pulses, with_motor};

#[test]
fn prop_forward_then_reverse_keeps_every_value_sane() {
    for rest in [RestPosition::Braked, RestPosition::Open] {
        for rtol in [1e-4, 1e-6] {
            let (a, b) = (pulses(&[(0.0, 0.5)]), pulses(&[(0.51, 1.2)]));
            let run = with_motor(contactor(rest), a, b).transient(1.5, &TransientOptions::rtol(rtol)).unwrap();
            println!("{rest:?} {rtol:e}: {:?}", events_of(&run, "contactor"));
            assert_sound(&run, rtol);
            for node in ["supply_stud", "ground_stud", "motor_a_stud", "motor_b_stud"] {
                let volts = highest(&run, node);
                println!("{node}: {volts:.1} V");
                assert!(volts < 200.0, "{node}: {volts} V");
            }
            let speed = run.extremes(&Signal::State("motor".into(), "speed".into())).unwrap();
            assert!(speed.max > 100.0 && speed.min < -100.0, "{speed:?}");
            // |i| ≤ (V + K ω + V_b) / R_loop: twice the locked-rotor current and the brushes' share.
            let current = run.extremes(&Signal::Current("motor".into())).unwrap();
            let most = (12.6 + 0.045 * speed.max + 0.8) / (25e-3 + 20e-3 + 0.6e-3);
            println!("current {:.0} A to {:.0} A, at most {most:.0} A", current.min, current.max);
            assert!(current.max < most && current.min > -most, "{current:?}");
        }
    }
}
