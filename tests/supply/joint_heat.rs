//! A joint whose lug and stud heat, against closed forms.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, ConformanceOptions, Memory, Run, TransientOptions, check_part};
use stallpoint::parts::{CurrentSource, Joint, JointHeat, Loose};

fn joint(text: &str) -> Joint {
    let text = format!("temperature_c = '25 degC'\n{text}");
    toml::from_str(&text).unwrap()
}

/// 2 mohm in air of 40 °C.
fn corroded() -> Joint {
    joint("resistance = '2 mohm'\nheat = { ambient_c = '40 degC' }")
}

fn carried(joint: &Joint, amperes: f64, seconds: f64) -> Run {
    let mut circuit = Circuit::new();
    circuit.add("source", CurrentSource::constant(amperes).unwrap(), [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("joint", joint.clone(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit.transient(seconds, &TransientOptions::rtol(1e-8)).unwrap()
}

/// Heat that grows with temperature: net loss for each kelvin and where it settles, W/K and °C.
fn law(i: f64) -> (f64, f64) {
    let (r, g) = (2e-3, 1.0 / 15.0);
    let slope = 0.00393 / (1.0 + 0.00393 * 5.0);
    let net = g - i * i * r * slope;
    (net, (i * i * r * (1.0 - 25.0 * slope) + g * 40.0) / net)
}

#[test]
fn exact_constant_current_is_one_exponential() {
    let run = carried(&corroded(), 60.0, 900.0);
    let (net, end) = law(60.0);
    let at = |t: f64| end + (25.0 - end) * (-t * net / 20.0).exp();
    for t in [1.0, 30.0, 120.0, 900.0] {
        let now = run.sample(&[t]).unwrap();
        assert_close(now.state("joint", "temperature").unwrap()[0], at(t), 1e-6, &format!("at {t} s"));
        let grown = 2e-3 * (1.0 + 0.00393 * (at(t) - 20.0)) / (1.0 + 0.00393 * 5.0);
        assert_close(now.voltage("p").unwrap()[0], 60.0 * grown, 1e-6, "voltage");
    }
    assert_energy_adds_up(&run, 1e-8);
    // The limit is passed when the exponential says so.
    let when = 20.0 / net * ((25.0 - end) / (105.0 - end)).ln();
    assert_eq!(run.events.len(), 1);
    assert_eq!(run.events[0].what, "temperature limit reached");
    assert_close(run.events[0].time, when, 1e-6, "limit");
}

#[test]
fn exact_it_runs_away_where_heat_grows_faster_than_loss() {
    let (net, end) = law(120.0);
    assert!(net < 0.0);
    let run = carried(&corroded(), 120.0, 60.0);
    let exact = end + (25.0 - end) * (-60.0 * net / 20.0).exp();
    assert_close(run.sample(&[60.0]).unwrap().state("joint", "temperature").unwrap()[0], exact, 1e-6, "away");
}

#[test]
fn exact_it_cools_below_its_limit_again() {
    // From 105 °C in air of 25 °C, limit 100 °C, no current: above it at once, 1 K below it by the exponential.
    let hot: Joint =
        toml::from_str("temperature_c = '105 degC'\nheat = { ambient_c = '25 degC', limit_c = '100 degC' }").unwrap();
    let run = carried(&hot, 0.0, 60.0);
    let what: Vec<&str> = run.events.iter().map(|event| event.what.as_str()).collect();
    assert_eq!(what, ["temperature limit reached", "below its temperature limit again"]);
    assert_close(run.events[1].time, 300.0 * (80.0_f64 / 74.0).ln(), 1e-6, "back");
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let x = [12.0, 11.5, 60.0, 64.0];
    for mode in 0..8 {
        let loose = joint("heat = {}\nfilm = {}\nloose = {}");
        assert_derivatives(&loose, &x, &Memory::new(mode, [1.0, 0.0]));
        assert_derivatives(&Joint { open: true, ..loose }, &x, &Memory::new(mode, [1.0, 0.0]));
    }
}

#[test]
fn prop_joints_conform_in_all_their_modes() {
    let options = ConformanceOptions { samples: 60, ..ConformanceOptions::default() };
    let all = joint("heat = {}\nfilm = { reforms_below = '0.5 A' }\nloose = { seed = 3 }");
    let tried = [
        (Joint { loose: None, film: None, ..all.clone() }, vec![0, 4]),
        (Joint { loose: None, heat: None, ..all.clone() }, vec![0, 2]),
        (Joint { loose: None, ..all.clone() }, vec![0, 2, 4, 6]),
        (Joint { heat: None, ..all.clone() }, vec![0, 1, 2]),
        (Joint { open: true, ..all.clone() }, vec![0, 1, 4, 5]),
        (all, vec![0, 1, 2, 4, 5, 6]),
    ];
    for (joint, expected) in tried {
        let found = check_part(&joint, &options).unwrap();
        let mut modes = found.modes.clone();
        modes.sort_unstable();
        assert_eq!(modes, expected, "{joint:?}");
        assert!(!found.is_source && found.balanced && found.linear_content, "{joint:?}: {found:?}");
    }
}

#[test]
fn exact_reads_back_from_a_file_and_refuses_by_name() {
    let heated = corroded();
    assert_eq!(toml::from_str::<Joint>(&toml::to_string(&heated).unwrap()).unwrap(), heated);
    assert_eq!(toml::to_string(&Joint::default()).unwrap().matches("heat").count(), 0);
    let refusal = |heat: JointHeat| {
        let joint = Joint { heat: Some(heat), loose: Some(Loose::default()), ..Joint::default() };
        Circuit::new().add("j", joint, [("a", "p"), ("b", "ground")]).unwrap_err().to_string()
    };
    let message = refusal(JointHeat { heat_capacity: "0 J/K".parse().unwrap(), ..JointHeat::default() });
    assert_eq!(message, "part \"j\" (joint): `heat.heat_capacity` is 0 J/K, but must be above 0 J/K");
    let message = refusal(JointHeat { temperature_coefficient: 0.4, ..JointHeat::default() });
    assert!(message.contains("`heat.temperature_coefficient` is 0.4 1/K, but must be between"), "{message}");
}
