//! Cable against its closed forms.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Memory, TransientOptions};
use stallpoint::parts::{Cable, Resistor, VoltageSource};

/// A source, a cable out, a resistor, a cable back: the two cables' inductances are in series.
fn loop_of(cable: &Cable, load: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("supply", cable.clone(), [("a", "p"), ("b", "stud")]).unwrap();
    circuit.add("load", Resistor::new(load).unwrap(), [("a", "stud"), ("b", "return")]).unwrap();
    circuit.add("ground_cable", cable.clone(), [("a", "return"), ("b", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_resistance_by_table_gauge_and_temperature() {
    // 0.78 ohm/km: IEC 60228 class 5, 25 mm2.
    let mut cable = Cable::new("25 mm2", "10 m").unwrap();
    assert_close(cable.resistance(), 7.8e-3, 1e-14, "25 mm2");
    // α = 0.00393 1/K: IEC 60028.
    cable.temperature_c = "70 degC".parse().unwrap();
    assert_close(cable.resistance(), 7.8e-3 * (1.0 + 0.00393 * 50.0), 1e-14, "25 mm2 at 70 degC");
    let gauge = Cable::new("2 AWG", "24 ft").unwrap();
    // 1/58 ohm mm2/m: IEC 60028; 33.6 mm2: ASTM B258.
    assert_close(gauge.resistance(), 24.0 * 0.3048 / 58.0 / 33.6, 2e-3, "2 AWG");
    assert_eq!(gauge.resistance_basis(), "copper resistivity (IEC 60028) over the area of 2 AWG (ASTM B258)");
    assert_close(gauge.area_m2(), 33.6e-6, 2e-3, "area");
}

#[test]
fn exact_step_follows_two_damped_inductances() {
    let cable = Cable::new("25 mm2", "10 m").unwrap();
    let run = loop_of(&cable, "0.1 ohm").transient(1e-3, &TransientOptions::rtol(1e-8)).unwrap();
    let (r, l) = (0.1 + 2.0 * 7.8e-3, 2.0 * 3e-6);
    let damping = l / 1e-7;
    // di_L/dt = (V - R i_L) / (τ (R + R_d))
    let constant = 1e-7 * (r + damping) / r;
    let times = [1e-7, 1e-5, 5e-5, 2e-4, 1e-3];
    let sampled = run.sample(&times).unwrap();
    let (i, i_l) = (sampled.current("supply").unwrap(), sampled.state("ground_cable", "inductor_current").unwrap());
    for (k, t) in times.into_iter().enumerate() {
        let inner = 12.0 / r * (1.0 - f64::exp(-t / constant));
        let outer = (12.0 + damping * inner) / (r + damping);
        // The solver's consistent start is two implicit steps of 1e-11 s: the current is that much ahead.
        let ahead = 2e-11 * 12.0 / l;
        assert!((i_l[k] - inner).abs() < 1e-6 * inner + ahead, "i_L at {t}: {} against {inner}", i_l[k]);
        assert!((i[k] - outer).abs() < 1e-6 * outer + ahead, "i at {t}: {} against {outer}", i[k]);
    }
    assert_energy_adds_up(&run, 1e-8);
    let stored = run.energy.part("supply").unwrap().stored;
    assert_close(stored, 0.5 * 3e-6 * i_l[4] * i_l[4], 1e-9, "stored");
}

#[test]
fn exact_no_inductance_is_a_resistor() {
    let cable = Cable { inductance_per_metre: "0 H".parse().unwrap(), ..Cable::new("25 mm2", "10 m").unwrap() };
    let run = loop_of(&cable, "0.1 ohm").transient(1e-3, &TransientOptions::rtol(1e-6)).unwrap();
    let (i, i_l) = (run.current("supply").unwrap(), run.state("supply", "inductor_current").unwrap());
    for (i, i_l) in i.into_iter().zip(i_l) {
        assert_close(i, 12.0 / (0.1 + 2.0 * 7.8e-3), 1e-9, "current");
        assert_close(i_l, i, 1e-12, "inner current");
    }
}

#[test]
fn exact_cables_in_series_raise_no_warning() {
    let cable = Cable::new("25 mm2", "10 m").unwrap();
    assert_eq!(loop_of(&cable, "0.1 ohm").warnings().unwrap(), Vec::<String>::new());
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let memory = Memory::default();
    let cable = Cable::new("2 AWG", "24 ft").unwrap();
    assert_derivatives(&cable, &[12.0, 11.5, 60.0, 55.0], &memory);
    let stiff = Cable { inductance_per_metre: "0 H".parse().unwrap(), ..cable };
    assert_derivatives(&stiff, &[12.0, 11.5, 60.0, 55.0], &memory);
}

#[test]
fn exact_reads_back_from_a_file() {
    let cable: Cable = toml::from_str("cross_section = '2 AWG'\nlength = '24 ft'\nampacity = '130 A'").unwrap();
    assert_eq!(cable.ampacity, Some("130 A".parse().unwrap()));
    assert_eq!(toml::from_str::<Cable>(&toml::to_string(&cable).unwrap()).unwrap(), cable);
    let wrong = toml::from_str::<Cable>("cross_section = '2 AWG'\nlength = '24 ft'\nlenght = '1 m'").unwrap_err();
    assert!(wrong.to_string().contains("unknown field `lenght`"), "{wrong}");
}

#[test]
fn exact_refusals_name_the_argument() {
    assert_eq!(Cable::new("25 mm2", "-3 m").unwrap_err().to_string(), "`length` is -3 m, but must be above 0 m");
    assert_eq!(Cable::new("25 mm2", 0.0).unwrap_err().to_string(), "`length` is 0 m, but must be above 0 m");
    assert_eq!(
        Cable::new("25 mm2", "3 V").unwrap_err().to_string(),
        "`length`: \"3 V\" is a voltage; a length is expected, for example \"24 ft\""
    );
    let cable = Cable { inductance_per_metre: "-1 uH".parse().unwrap(), ..Cable::new("25 mm2", "3 m").unwrap() };
    let error = Circuit::new().add("supply_cable", cable, [("a", "p"), ("b", "ground")]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "part \"supply_cable\" (cable): `inductance_per_metre` is -1e-6 H, but must be 0 H or more"
    );
}
