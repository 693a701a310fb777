//! Faults of a battery.

use crate::support::{assert_close, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, ConformanceOptions, Part, TransientOptions, check_part};
use stallpoint::parts::{BadString, Battery, BatteryFaults, CurrentSource, Resistor};

fn with(battery: Battery, bad: BadString) -> Battery {
    Battery { faults: BatteryFaults { bad_string: Some(bad), ..BatteryFaults::default() }, ..battery }
}

fn flooded() -> Battery {
    Battery::flooded("100 Ah", "6 mohm").unwrap()
}

fn on(battery: Battery, load: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("battery", battery, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("load", Resistor::new(load).unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_a_reversed_battery_drives_the_other_way() {
    let reversed = Battery { faults: BatteryFaults { reversed: true, ..Default::default() }, ..flooded() };
    assert_eq!(reversed.open_circuit_voltage(), -12.65);
    let circuit = on(reversed, "0.5 ohm");
    let op = circuit.operating_point().unwrap();
    assert_close(op.current("load").unwrap(), -12.65 / 0.506, 1e-12, "current");
    let run = circuit.transient(60.0, &TransientOptions::rtol(1e-8)).unwrap();
    // It discharges all the same.
    let charge = *run.state("battery", "state_of_charge").unwrap().last().unwrap();
    assert!((1.0 - charge) * 360e3 > 24.9 * 60.0, "{charge}");
    assert_energy_adds_up(&run, 1e-8);
}

/// Both posts exchanged is the healthy battery seen from the other side, in every other value too.
#[test]
fn exact_a_reversed_battery_is_the_healthy_one_turned_round() {
    let current = |reversed: bool| {
        let battery = Battery { faults: BatteryFaults { reversed, ..Default::default() }, ..flooded() };
        let run = on(battery, "0.2 ohm").transient(600.0, &TransientOptions::rtol(1e-6)).unwrap();
        run.sample(&[1.0, 300.0, 600.0]).unwrap().current("load").unwrap()
    };
    assert_eq!(current(true), current(false).iter().map(|i| -i).collect::<Vec<_>>());
}

#[test]
fn exact_a_dead_cell_takes_a_sixth() {
    let dead = with(flooded(), BadString { dead_cells: 1, ..Default::default() });
    assert_close(dead.open_circuit_voltage(), 12.65 * 5.0 / 6.0, 1e-15, "open-circuit voltage");
    assert_close(dead.resistance(), 5e-3, 1e-15, "resistance");
    // Two blocks in series: one of twelve cells.
    let pair = with(Battery { blocks_in_series: 2, ..flooded() }, BadString { dead_cells: 1, ..Default::default() });
    assert_close(pair.open_circuit_voltage(), 25.3 * 11.0 / 12.0, 1e-15, "of two blocks");
}

/// Two strings, one with a dead cell: at rest the good one drives (12.65 - 10.54) V round both resistances.
#[test]
fn exact_a_good_string_feeds_a_dead_cell() {
    let bank = with(Battery { strings_in_parallel: 2, ..flooded() }, BadString { dead_cells: 1, ..Default::default() });
    let circuit = on(bank, "1 Mohm");
    let op = circuit.operating_point().unwrap();
    let round = 12.65 / 6.0 / (6e-3 + 5e-3);
    assert_close(op.state("battery", "bad_string_current").unwrap(), round, 1e-6, "circulating current");
    assert_close(op.voltage("p").unwrap(), 12.65 - 6e-3 * round, 1e-7, "posts");
    let run = circuit.transient(3600.0, &TransientOptions::rtol(1e-6)).unwrap();
    let last = |name: &str| *run.state("battery", name).unwrap().last().unwrap();
    assert!(last("state_of_charge") < 0.9 && last("bad_string_state_of_charge") > 1.0);
    assert_energy_adds_up(&run, 1e-6);
}

/// What one string lacks the other gives: the shares under load follow the two resistances.
#[test]
fn exact_a_sulphated_string_gives_its_share_only() {
    let bad = BadString { added_resistance: "30 mohm".parse().unwrap(), ..Default::default() };
    let bank = with(Battery { strings_in_parallel: 3, ..flooded() }, bad);
    let conductance = 2.0 / 6e-3 + 1.0 / 36e-3;
    assert_close(bank.resistance(), 1.0 / conductance, 1e-14, "resistance");
    let op = on(bank, "50 mohm").operating_point().unwrap();
    let i = 12.65 / (0.05 + 1.0 / conductance);
    assert_close(op.current("load").unwrap(), i, 1e-12, "current");
    assert_close(op.state("battery", "bad_string_current").unwrap(), -i / 36e-3 / conductance, 1e-10, "its share");
}

#[test]
fn exact_an_open_string_gives_nothing() {
    let open = BadString { open: true, ..Default::default() };
    let op = on(with(Battery { strings_in_parallel: 2, ..flooded() }, open), "50 mohm").operating_point().unwrap();
    assert_close(op.current("load").unwrap(), 12.65 / 0.056, 1e-7, "one of two");
    let op = on(with(flooded(), open), "50 mohm").operating_point().unwrap();
    assert_close(op.current("load").unwrap(), 12.65e-9, 1e-6, "the only one");
}

#[test]
fn exact_less_capacity_empties_sooner() {
    let bad = BadString { capacity_left: "25 %".parse().unwrap(), ..Default::default() };
    let mut circuit = Circuit::new();
    circuit.add("battery", with(flooded(), bad), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("load", CurrentSource::constant("10 A").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let run = circuit.transient(3600.0, &TransientOptions::rtol(1e-6)).unwrap();
    let charge = *run.state("battery", "state_of_charge").unwrap().last().unwrap();
    assert_close(charge, 1.0 - 10.0 / 25.0, 1e-9, "charge");
}

#[test]
fn prop_faulty_batteries_conform() {
    let branches = Battery {
        polarisation_resistance: Some("4 mohm".parse().unwrap()),
        polarisation_capacitance: Some("5000 F".parse().unwrap()),
        slow_polarisation_resistance: Some("5 mohm".parse().unwrap()),
        slow_polarisation_capacitance: Some("20000 F".parse().unwrap()),
        resistance_by_charge: vec![[0.0, 2.0], [0.5, 1.1], [1.0, 1.0]],
        strings_in_parallel: 3,
        ..flooded()
    };
    let bad = BadString { dead_cells: 2, added_resistance: "3 mohm".parse().unwrap(), ..Default::default() };
    let mut parts = vec![branches.clone(), with(branches.clone(), bad), with(flooded(), bad)];
    parts.push(with(branches, BadString { open: true, ..bad }));
    parts.push(with(flooded(), BadString { open: true, ..bad }));
    for battery in &mut parts.clone() {
        battery.faults.reversed = true;
        parts.push(battery.clone());
    }
    for battery in parts {
        // The charge is tried within 5 times its nominal 0.1 of the start.
        let options = ConformanceOptions { own: 5.0, ..Default::default() };
        let found = check_part(&battery, &options).unwrap_or_else(|error| panic!("{battery:?}: {error}"));
        assert!(found.is_source && found.linear_content && found.balanced, "{found:?}");
    }
}

#[test]
fn exact_refusals_name_the_argument() {
    let refused = |bad| with(flooded(), bad).check().unwrap_err().to_string();
    assert_eq!(
        refused(BadString { dead_cells: 6, ..Default::default() }),
        "`faults.bad_string.dead_cells` is 6, but must be fewer than the 6 cells of a string; a string without any is `open`"
    );
    assert_eq!(
        refused(BadString { capacity_left: "0 %".parse().unwrap(), ..Default::default() }),
        "`faults.bad_string.capacity_left` is 0, but must be above 0 and at most 1"
    );
}

#[test]
fn exact_reads_back_from_a_file() {
    let text = "chemistry = 'agm_lead_acid'\ncapacity = '100 Ah'\nseries_resistance = '5 mohm'\n\
                strings_in_parallel = 2\nfaults.bad_string = { dead_cells = 1 }";
    let battery: Battery = toml::from_str(text).unwrap();
    assert_eq!(battery.faults.bad_string, Some(BadString { dead_cells: 1, ..Default::default() }));
    assert_eq!(toml::from_str::<Battery>(&toml::to_string(&battery).unwrap()).unwrap(), battery);
}
