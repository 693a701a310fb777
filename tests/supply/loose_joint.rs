//! A joint that loses contact now and then.

use crate::support::{assert_close, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, ConformanceOptions, TransientOptions, check_part};
use stallpoint::parts::{Inductor, Joint, Loose, Resistor, VoltageSource};

fn loose(seed: u64) -> Joint {
    Joint { loose: Some(Loose { seed, ..Loose::default() }), ..Joint::default() }
}

fn circuit(joint: Joint, inductance: Option<&str>) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", joint, [("a", "p"), ("b", "stud")]).unwrap();
    let end = if inductance.is_some() { "coil" } else { "ground" };
    circuit.add("load", Resistor::new("0.5 ohm").unwrap(), [("a", "stud"), ("b", end)]).unwrap();
    if let Some(inductance) = inductance {
        circuit.add("coil", Inductor::new(inductance).unwrap(), [("a", "coil"), ("b", "ground")]).unwrap();
    }
    circuit
}

#[test]
fn exact_its_events_are_at_the_seeds_times() {
    for seed in [1, 2, 99] {
        let run = circuit(loose(seed), None).transient(3.0, &TransientOptions::rtol(1e-6)).unwrap();
        let times: Vec<f64> = loose(seed).loose.unwrap().times(1000).into_iter().filter(|&t| t < 3.0).collect();
        assert!(times.len() > 5, "{times:?}");
        assert_eq!(run.events.len(), times.len());
        for (k, (event, time)) in run.events.iter().zip(times).enumerate() {
            assert_eq!(event.what, ["comes apart", "comes together"][k % 2]);
            assert_close(event.time, time, 1e-12, "time");
        }
    }
}

#[test]
fn exact_the_same_seed_gives_the_same_run_and_another_gives_another() {
    let run = |seed| circuit(loose(seed), None).transient(3.0, &TransientOptions::default()).unwrap();
    let (one, again, other) = (run(5), run(5), run(6));
    assert_eq!(one.current("load").unwrap(), again.current("load").unwrap());
    assert_ne!(one.events[0].time, other.events[0].time);
}

/// The mean of many exponential times is their mean within a few standard errors, and their spread equals it.
#[test]
fn exact_times_are_exponential() {
    let times = Loose::default().times(20_000);
    let spans: Vec<f64> = std::iter::once(times[0]).chain(times.windows(2).map(|w| w[1] - w[0])).collect();
    for (first, mean) in [(0, 0.3), (1, 0.03)] {
        let own: Vec<f64> = spans.iter().copied().skip(first).step_by(2).collect();
        let n = own.len() as f64;
        let average = own.iter().sum::<f64>() / n;
        let spread = (own.iter().map(|t| (t - average) * (t - average)).sum::<f64>() / n).sqrt();
        // Four standard errors of the mean, 1/√n; of an exponential's spread, √(2/n).
        assert_close(average, mean, 4.0 / n.sqrt(), "mean");
        assert_close(spread, mean, 4.0 * (2.0 / n).sqrt(), "spread");
    }
}

#[test]
fn exact_together_and_apart_follow_ohms_law() {
    let run = circuit(loose(3), None).transient(3.0, &TransientOptions::rtol(1e-8)).unwrap();
    let (i, together) = (run.current("load").unwrap(), run.state("joint", "together").unwrap());
    for (i, together) in i.into_iter().zip(together) {
        // Apart: 12 V hold no arc, so 10 ohm and the load's 0.5 ohm.
        let expected = if together == 1.0 { 12.0 / (0.5 + 1e-4) } else { 12.0 / 10.5 };
        assert_close(i, expected, 1e-10, "current");
    }
}

/// An inductance's current goes on through the arc: the gap holds some 13 V and what is left falls to the resistor's share.
#[test]
fn exact_an_inductance_is_cut_at_the_arc_voltage() {
    for rtol in [1e-4, 1e-6] {
        let run = circuit(loose(3), Some("20 mH")).transient(3.0, &TransientOptions::rtol(rtol)).unwrap();
        let gap = run.voltage("p").unwrap().into_iter().zip(run.voltage("stud").unwrap()).map(|(p, s)| p - s);
        let most = gap.fold(0.0, f64::max);
        assert!(most > 12.5 && most < 14.0, "{most}");
        assert_energy_adds_up(&run, rtol);
    }
}

#[test]
fn prop_loose_joints_conform() {
    let found = check_part(&loose(1), &ConformanceOptions::default()).unwrap();
    assert_eq!(found.modes, [0, 1]);
    assert!(!found.is_source && found.balanced);
}

#[test]
fn exact_reads_back_from_a_file_and_refuses_by_name() {
    let joint: Joint = toml::from_str("resistance = '1 mohm'\nloose = { seed = 42, mean_apart = '5 ms' }").unwrap();
    assert_eq!(joint.loose.unwrap().seed, 42);
    assert_eq!(toml::from_str::<Joint>(&toml::to_string(&joint).unwrap()).unwrap(), joint);
    let still = Joint { loose: Some(Loose { mean_apart: "0 s".parse().unwrap(), ..Loose::default() }), ..joint };
    let error = Circuit::new().add("j", still, [("a", "p"), ("b", "ground")]).unwrap_err();
    assert_eq!(error.to_string(), "part \"j\" (joint): `loose.mean_apart` is 0 s, but must be above 0 s");
}
