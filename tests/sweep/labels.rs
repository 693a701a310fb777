//! Coordinates, units, and the table as text.

use stallpoint::studies::sweep::{Axis, AxisLabels, Coordinates};

use super::support::{held, swept};

fn labels(axis: Axis) -> AxisLabels {
    swept(&[axis], &["dropouts"], &held(0.001)).axes.remove(0)
}

#[test]
fn exact_numbers_and_texts_with_units_become_si() {
    let lengths = labels(Axis::new("supply_cable.length", ["24 ft", "7 m", "250 cm"]));
    assert_eq!(lengths.coordinates(), &Coordinates::Numbers(vec![7.3152, 7.0, 2.5])); // 1 ft = 0.3048 m by definition
    assert_eq!((lengths.unit(), lengths.name.as_str(), lengths.len()), ("m", "supply_cable.length", 3));
    let joints = labels(Axis::new("ground_stud_joint.resistance", [1e-4, 0.1]));
    assert_eq!((joints.coordinates(), joints.unit()), (&Coordinates::Numbers(vec![1e-4, 0.1]), "ohm"));
    let charges = labels(Axis::new("battery.state_of_charge", ["50 %", "90 %"]));
    assert_eq!((charges.coordinates(), charges.unit()), (&Coordinates::Numbers(vec![0.5, 0.9]), ""));
    let loads = labels(Axis::new("load.1.torque", [0.6]));
    assert_eq!((loads.coordinates(), loads.unit()), (&Coordinates::Numbers(vec![0.6]), "N m"));
}

#[test]
fn exact_metric_sizes_are_areas_and_gauges_stay_texts() {
    let metric = labels(Axis::new("supply_cable.cross_section", ["16 mm2", "35 mm²"]));
    assert_eq!((metric.coordinates(), metric.unit()), (&Coordinates::Numbers(vec![16e-6, 35e-6]), "m2"));
    let mixed = labels(Axis::new("supply_cable.cross_section", ["16 mm2", "2 AWG", "AWG 1/0"]));
    let texts = ["16 mm2", "2 AWG", "1/0 AWG"].map(String::from).to_vec();
    assert_eq!((mixed.coordinates(), mixed.unit()), (&Coordinates::Texts(texts), ""));
}

#[test]
fn exact_words_and_flags_stay_texts() {
    let returns = labels(Axis::new("control.coil_return", ["battery_negative", "ground_stud"]).named("return"));
    let texts = ["battery_negative", "ground_stud"].map(String::from).to_vec();
    assert_eq!((returns.coordinates(), returns.name.as_str()), (&Coordinates::Texts(texts), "return"));
    let bonded = labels(Axis::new("case.bonded", [true, false]));
    assert_eq!(bonded.coordinates(), &Coordinates::Texts(vec!["true".into(), "false".into()]));
}

#[test]
fn exact_csv_has_a_line_per_case_and_quotes_what_must_be() {
    let axes = [Axis::new("supply_cable.length", ["7 m", "-1 m"]), Axis::new("name", ["Lift, \"small\"", "Lift"])];
    let table = swept(&axes, &["stalled", "trips", "time_to_speed", "dropouts"], &held(0.001));
    let reason = "\"part \"\"supply_cable\"\" (cable): `length` is -1 m, but must be above 0 m\"";
    let expected = [
        "supply_cable.length [m],name,stalled,trips,time_to_speed [s],dropouts,failure".to_string(),
        "7,\"Lift, \"\"small\"\"\",true,no,,0,".into(),
        "7,Lift,true,no,,0,".into(),
        format!("-1,\"Lift, \"\"small\"\"\",,,,,{reason}"),
        format!("-1,Lift,,,,,{reason}"),
    ];
    assert_eq!(table.to_csv(), expected.map(|line| line + "\r\n").concat());
}
