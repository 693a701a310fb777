//! The catalogue: every fault can be put into each demo drive, and changes it.

use stallpoint::circuit::Circuit;
use stallpoint::drive::{BOAT_LIFT, CONVEYOR_GATE, Control, Drive, Fault, STAGE_LIFT, Section, fault_catalogue};
use stallpoint::parts::{Resistor, VoltageSource};

#[test]
fn prop_every_fault_applies_to_every_demo_drive_and_survives_its_file() {
    for text in [BOAT_LIFT, STAGE_LIFT, CONVEYOR_GATE] {
        let drive = Drive::from_toml_str(text).unwrap();
        let catalogue = fault_catalogue(&drive);
        assert!(catalogue.len() > 90, "{}", catalogue.len());
        let sum: f64 = catalogue.iter().map(|entry| entry.prior).sum();
        assert!((sum - 1.0).abs() < 1e-12);
        for entry in &catalogue {
            assert!(entry.steady || entry.prior == 0.0, "{}", entry.name());
            for severity in [0.0, 0.5, 1.0] {
                let faulty = drive.with_fault(&entry.at(severity)).unwrap_or_else(|e| panic!("{}: {e}", entry.name()));
                assert_ne!(faulty, drive, "{}", entry.name());
                faulty.circuit(&Control::new()).unwrap_or_else(|e| panic!("{}: {e}", entry.name()));
                let back = Drive::from_toml_str(&faulty.to_toml().unwrap()).unwrap();
                assert_eq!(back, faulty, "{}", entry.name());
            }
        }
    }
}

/// Common practice, no source: with good supply, ground and signals it is the contactor about nine times in ten.
#[test]
fn val_contactor_nine_times_in_ten() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let of = |sections: &[Section]| -> f64 {
        fault_catalogue(&drive).iter().filter(|e| sections.contains(&e.section)).map(|e| e.prior).sum()
    };
    let share = of(&[Section::Contactor]) / of(&[Section::Contactor, Section::Motor, Section::Load]);
    assert!((share - 0.9).abs() < 0.01, "{share}");
}

#[test]
fn exact_faults_compose() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let both = drive
        .with_fault(&Fault::joint("ground_stud_joint", "60 mohm").unwrap())
        .unwrap()
        .with_fault(&Fault::new("motor", "worn_brushes").with_amount(0.1))
        .unwrap();
    assert_eq!(both.joints["ground_stud_joint"].resistance.si(), 0.06);
    assert_eq!(both.motor.armature().faults.brush_resistance.si(), 0.1);
}

#[test]
fn exact_errors_name_the_part_and_the_mode() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let text = |fault: &Fault| drive.with_fault(fault).unwrap_err().to_string();
    assert!(text(&Fault::new("flux_capacitor", "open")).contains("flux_capacitor"));
    assert!(text(&Fault::new("isolator", "rusty")).contains("off, burnt"));
    assert!(text(&Fault::new("isolator", "off").with_amount(2.0)).contains("only one severity"));
    let unknown = drive.with_values([("faults.series.moon", "1 ohm")]).unwrap_err().to_string();
    assert!(unknown.contains("moon") && unknown.contains("supply_cable"), "{unknown}");
}

/// Source resistance of a divider: R1 R2 / (R1 + R2); of a floating pair, their sum.
#[test]
fn exact_source_resistance() {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    for (name, ohms, a, b) in [("r1", 1e3, "p", "m"), ("r2", 2e3, "m", "ground"), ("r3", 5e6, "m", "far")] {
        circuit.add(name, Resistor::new(ohms).unwrap(), [("a", a), ("b", b)]).unwrap();
    }
    let op = circuit.operating_point().unwrap();
    let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
    close(op.source_resistance("m", "ground").unwrap(), 2e3 / 3.0);
    close(op.source_resistance("far", "m").unwrap(), 5e6);
    close(op.source_resistance("far", "ground").unwrap(), 5e6 + 2e3 / 3.0);
    assert!(op.source_resistance("nowhere", "ground").is_err());
}

/// A loose joint is good in every steady reading and comes apart in a run.
#[test]
fn prop_a_loose_joint_shows_only_in_time() {
    use stallpoint::drive::{Direction, StartOptions};
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let loose = drive.with_fault(&Fault::new("supply_stud_joint", "loose").with_amount(0.1)).unwrap();
    let volts = |drive: &Drive| {
        let op = drive.operating_point(Some(Direction::Forward), &Default::default()).unwrap();
        op.voltage("supply_stud").unwrap()
    };
    assert!((volts(&drive) - volts(&loose)).abs() < 1e-9);
    let run = loose.start(Direction::Forward, &StartOptions::hold(2.0).unwrap()).unwrap();
    assert!(run.events.iter().any(|event| event.part == "supply_stud_joint"), "it never comes apart in 2 s");
}
