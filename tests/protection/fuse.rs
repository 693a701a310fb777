//! Fuse: accumulation, warming, arc, and being spent.

use crate::support::{assert_close, last, opens_in, through, words};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{CurrentSource, Fuse, Inductor, Resistor, TripBand, VoltageSource, part_from};
use stallpoint::quantity::Resistance;
use stallpoint::tables::trip_gates::FuseClass;

fn ato() -> Fuse {
    Fuse::of_class(FuseClass::BladeAto, "20 A").unwrap()
}

#[test]
fn exact_constant_current_blows_it_at_the_time_of_its_band() {
    for multiple in [1.4, 2.0, 3.1, 5.0, 12.0] {
        let time = ato().band().time(0.5, multiple).unwrap();
        assert_close(opens_in(20.0 * multiple, ato(), 1e4).unwrap(), time, 1e-6, "blows");
    }
    assert_eq!(opens_in(20.0, ato(), 1e6), None);
}

#[test]
fn exact_pulses_add_up_and_cool() {
    // Twice 60 A for half of its time there, 7 s apart: the second ends it only when what cooled is made good.
    let time = ato().band().time(0.5, 3.0).unwrap();
    let half = 0.5 * time;
    let (off, on) = (half, half + 7.0);
    let times = [0.0, off, off + 1e-9, on, on + 1e-9];
    let source = CurrentSource::table(times, [60.0, 60.0, 0.0, 0.0, 60.0]).unwrap();
    let run = through(source, ato()).transient(20.0, &TransientOptions::rtol(1e-8)).unwrap();
    let left = 0.5 * f64::exp(-7.0 / 10.0);
    assert_eq!(words(&run, "device")[0], "blows");
    assert_close(run.events[0].time, on + (1.0 - left) * time, 1e-6, "blows");
}

#[test]
fn exact_the_element_warms_and_its_resistance_follows() {
    let fuse = Fuse { cold_resistance: Some(Resistance::from_si(3.38e-3)), ..ato() };
    let source = CurrentSource::constant(20.0).unwrap();
    let run = through(source, fuse).transient(30.0, &TransientOptions::rtol(1e-7)).unwrap();
    for t in [0.0, 3.0, 12.0, 30.0] {
        let drop = run.sample(&[t]).unwrap().voltage("p").unwrap()[0];
        let warmth = 1.0 - f64::exp(-t / 10.0);
        assert_close(drop, 20.0 * 3.38e-3 * (1.0 + 0.4 * warmth), 1e-5, "drop");
    }
    assert_close(last(&run, "warmth"), 1.0 - f64::exp(-3.0), 1e-5, "warmth");
    assert!(run.energy.residual().abs() <= 1e-6 * run.energy.delivered(), "{:?}", run.energy);
}

#[test]
fn exact_cold_resistance_by_class_is_the_mean_of_its_data_sheets() {
    // 40 A · 1.44 mohm and 20 A · 3.38 mohm (read on data sheets, tests/reference/fuse_typicals.csv).
    assert_close(ato().resistance_when_cold(), (40.0 * 1.44e-3 + 20.0 * 3.38e-3) / 2.0 / 20.0, 1e-12, "ohm");
    let bolted = Fuse::of_class(FuseClass::BoltHighCurrent, "200 A").unwrap();
    assert_close(bolted.resistance_when_cold(), 0.06 / 200.0, 1e-12, "ohm");
}

#[test]
fn exact_it_breaks_an_inductive_load_once_and_the_energy_adds_up() {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("24 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("device", ato(), [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("load", Resistor::new("0.2 ohm").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    circuit.add("coil", Inductor::new("100 uH").unwrap(), [("a", "n"), ("b", "ground")]).unwrap();
    for rtol in [1e-4, 1e-6] {
        let run = circuit.transient(20.0, &TransientOptions::rtol(rtol)).unwrap();
        assert_eq!(words(&run, "device"), ["blows", "arc goes out"]);
        assert_eq!(last(&run, "closed"), 0.0);
        assert!(run.current("device").unwrap().last().unwrap().abs() < 1e-6);
        assert!(run.energy.residual().abs() <= rtol * run.energy.delivered(), "{:?}", run.energy);
    }
}

#[test]
fn exact_spent_it_is_open_from_the_start() {
    let fuse = Fuse { spent: true, ..ato() };
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("device", fuse, [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("load", Resistor::new("1 ohm").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    assert!(circuit.operating_point().unwrap().current("device").unwrap() < 1e-7);
    let run = circuit.transient(1.0, &TransientOptions::default()).unwrap();
    assert!(run.events.is_empty(), "{:?}", run.events);
    assert!(run.current("device").unwrap().iter().all(|i| i.abs() < 1e-7));
}

#[test]
fn exact_files_and_refusals() {
    let text = "rated_current = '20 A'\nclass = 'blade_ato'\nspent = true";
    let fuse: Fuse = toml::from_str(text).unwrap();
    assert_eq!(fuse, Fuse { spent: true, ..ato() });
    assert_eq!(toml::from_str::<Fuse>(&toml::to_string(&fuse).unwrap()).unwrap(), fuse);
    let json = serde_json::json!({ "rated_current": "60 A", "class": "blade_maxi" });
    assert_eq!(part_from("Fuse", json).unwrap().kind(), "fuse");
    let no_band = part_from("Fuse", serde_json::json!({ "rated_current": "60 A" })).unwrap_err().to_string();
    assert_eq!(
        no_band,
        "Fuse: neither `class` nor `trip_band` is given; give the fuse's class, or its time-current points"
    );
    assert_eq!(
        Fuse::of_class(FuseClass::BladeMini, "60 A").unwrap_err().to_string(),
        "`rated_current` is 60 A, but must be one of the rated currents of class blade_mini"
    );
    // 350 %: 0.08 s and 0.5 s, multiples and times 0.1 % inside: 392 A²s · 1.001³ and 2450 A²s · 0.999³.
    assert_eq!(
        ato().at_melting_i2t(1e5).unwrap_err().to_string(),
        "`i2t` is 100000 A²s, but must be within the band's 393 A²s to 2443 A²s"
    );
    let inverse = TripBand::thermal(1.2, "5 s", 0.0).unwrap();
    assert!(Fuse::new("20 A", inverse).unwrap().at_melting_i2t(500.0).is_err());
}
