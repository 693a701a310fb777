//! An automatic breaker on a stalled motor: its period, and what minutes of it cost.

use crate::support::{assert_close, band};
use stallpoint::circuit::{Circuit, Run, TransientOptions};
use stallpoint::drive::{BOAT_LIFT, Control, Direction, Drive};
use stallpoint::parts::load::{Load, ResistingTorque};
use stallpoint::parts::{Breaker, PermanentMagnetMotor, Reset, VoltageSource};
use stallpoint::quantity::Current;

/// Times of "trips" and "recloses" of a part, by turns.
fn turns(run: &Run, part: &str) -> Vec<f64> {
    let events = run.events.iter().filter(|e| e.part == part && ["trips", "recloses"].contains(&e.what.as_str()));
    events
        .enumerate()
        .map(|(k, event)| {
            assert_eq!(event.what, if k % 2 == 0 { "trips" } else { "recloses" });
            event.time
        })
        .collect()
}

/// 12 V, a breaker of 50 A and a motor on a shaft that does not turn.
fn stalled() -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let breaker = Breaker { reset: Reset::Automatic, ..Breaker::new("50 A", band()).unwrap() };
    circuit.add("breaker", breaker, [("line", "p"), ("load", "m")]).unwrap();
    let motor = PermanentMagnetMotor::new("99 mohm", "0.2 mH", "0.05 N m/A", "0.002 kg m2").unwrap();
    circuit.add("motor", motor, [("plus", "m"), ("minus", "ground")]).unwrap();
    circuit.attach("motor", ResistingTorque::new("1000 N m", "1000 N m").unwrap()).unwrap();
    circuit
}

#[test]
fn exact_the_period_is_that_of_the_closed_form() {
    // 12 V over 1 mohm + 99 mohm: 120 A, 2.4 times the rated current; no brush drop, and L/R = 2 ms does not matter:
    // what the first instants of a cycle lack is (1/t(M) integrated over the rise), below 1e-4 of a cycle.
    let heating = band().time(0.5, 2.4).unwrap();
    for rtol in [1e-4, 1e-6] {
        let run = stalled().transient(600.0, &TransientOptions::rtol(rtol)).unwrap();
        let times = turns(&run, "breaker");
        assert!(times.len() >= 8, "{times:?}");
        for pair in times.windows(3).enumerate() {
            let (k, &[a, _, c]) = (pair.0, <&[f64; 3]>::try_from(pair.1).unwrap());
            let period = 60.0 * f64::ln(1.0 / 0.3) + 0.7 * heating;
            assert_close(c - a, period, 2e-4, &format!("period {k}"));
        }
    }
}

/// The boat lift on a breaker of 50 A with its shaft blocked, held for ten minutes.
fn ten_minutes() -> (Drive, Run) {
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    drive.load.push(Load::ResistingTorque(ResistingTorque::new("1000 N m", "1000 N m").unwrap()));
    drive.breaker.as_mut().unwrap().rated_current = Current::from_si(50.0);
    let control = Control::new().call(Direction::Forward, 0.0, 700.0).unwrap();
    let run = drive.run(&control, 600.0).unwrap();
    (drive, run)
}

#[test]
fn exact_each_cycle_of_a_stalled_drive_accumulates_what_its_current_says() {
    let (drive, run) = ten_minutes();
    let (band, rated) =
        (&drive.breaker.as_ref().unwrap().trip_band, drive.breaker.as_ref().unwrap().rated_current.si());
    let times = turns(&run, "breaker");
    assert!(times.len() >= 14, "{times:?}");
    for (k, pair) in times.windows(2).enumerate() {
        let (from, to) = (pair[0], pair[1]);
        if k % 2 == 0 {
            // Cools from 1 to 0.3 with 60 s; the arc of some 3 ms goes on heating it before, by 3 ms / t(M) at most.
            let arc = 3.1e-3 / band.time(0.5, 160.0 / rated).unwrap();
            let cooling = 60.0 * f64::ln(1.0 / 0.3);
            assert!(to - from > cooling - 1e-3 && to - from < cooling + 3.1e-3 + 60.0 * arc, "{k}: {}", to - from);
            continue;
        }
        // Heats by 0.7: ∫ dt / t(i) over the run's own current, which falls as the winding warms. Midpoint rule; from 20 ms
        // after closing on, for before that the current rises (less than 20 ms / t(M) is left out).
        let n = 2000;
        let h = (to - from - 0.02) / f64::from(n);
        let at: Vec<f64> = (0..n).map(|j| from + 0.02 + h * (f64::from(j) + 0.5)).collect();
        let current = run.sample(&at).unwrap().current("breaker").unwrap().to_vec();
        let heated: f64 = current.iter().map(|i| h / band.time(0.5, i / rated).unwrap()).sum();
        let left_out = 0.02 / band.time(0.5, current[0] / rated).unwrap();
        assert!(heated < 0.7 + 1e-3 && heated > 0.7 - left_out - 1e-3, "{k}: {heated}");
    }
}

#[test]
fn regress_ten_minutes_of_a_stalled_drive_take_few_steps() {
    // Measured: 818 steps; 93 to 95 a cycle, of which 40 belong to the arc and its ends; 15 in a quiet minute.
    let (_, run) = ten_minutes();
    assert!(run.counters.steps < 1200, "{:?}", run.counters);
    let times = turns(&run, "breaker");
    for cycle in times.windows(3).step_by(2) {
        let inside = |from: f64, to: f64| run.time().iter().filter(|&&t| t > from && t < to).count();
        assert!(inside(cycle[0], cycle[2]) < 140, "{cycle:?}");
        assert!(inside(cycle[0] + 1.0, cycle[0] + 61.0) < 25, "{cycle:?}");
    }
}

/// A minute in which nothing happens costs no more than a hundred steps: at rest, running, blocked with an integral that
/// counts but does not trip, and with an automatic breaker open.
#[test]
fn regress_a_quiet_minute_takes_few_steps() {
    // Measured: 5 at rest, 7 running, 17 blocked, 10 open.
    let steps = |run: &Run, from: f64| run.time().iter().filter(|&&t| t > from && t < from + 60.0).count();
    let lift = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let held = Control::new().call(Direction::Forward, 0.0, 90.0).unwrap();
    let run = lift.run(&held, 180.0).unwrap();
    let [running, at_rest] = [5.0, 100.0].map(|from| steps(&run, from));
    let mut blocked = lift.clone();
    blocked.load.push(Load::ResistingTorque(ResistingTorque::new("1000 N m", "1000 N m").unwrap()));
    blocked.breaker.as_mut().unwrap().rated_current = Current::from_si(110.0);
    let run = blocked.run(&held, 80.0).unwrap();
    assert!(turns(&run, "breaker").is_empty());
    let counted = *run.state("breaker", "trip_fraction").unwrap().last().unwrap();
    let stalled = steps(&run, 5.0);
    let (_, run) = ten_minutes();
    let open = steps(&run, turns(&run, "breaker")[0] + 1.0);
    println!("at rest {at_rest}, running {running}, blocked {stalled} (counted {counted}), open {open}");
    for (what, steps) in [("at rest", at_rest), ("running", running), ("blocked", stalled), ("open", open)] {
        assert!(steps > 0 && steps <= 100, "{what}: {steps}");
    }
}
