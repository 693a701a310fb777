//! Bad input: each a typed error, by its text.

use stallpoint::Error;
use stallpoint::drive::{BOAT_LIFT, Control, Direction, Drive, Fault, StartOptions};

use super::support::boat_lift;

fn file(from: &str, to: &str) -> String {
    assert!(BOAT_LIFT.contains(from), "{from}");
    Drive::from_toml_str(&BOAT_LIFT.replacen(from, to, 1)).unwrap_err().to_string()
}

/// Line of the boat lift's file that holds a text.
fn line(text: &str) -> usize {
    BOAT_LIFT.lines().position(|line| line.contains(text)).unwrap() + 1
}

#[test]
fn exact_a_file_names_line_and_column() {
    let at = line("capacity = \"100 Ah\"");
    let text = file("capacity = \"100 Ah\"", "capaciti = \"100 Ah\"");
    assert!(text.starts_with(&format!("line {at}, column 1: unknown field `capaciti`, expected one of ")), "{text}");
    let at = line("kind = \"permanent_magnet\"");
    let text = file("kind = \"permanent_magnet\"", "kind = \"permanent_magnet\"\n colour = 3");
    assert!(text.starts_with(&format!("line {}, column 2: unknown field `colour`", at + 1)), "{text}");
    let at = line("length = \"0.4 m\"");
    let text = file("length = \"0.4 m\"", "length = \"0.4 V\"");
    let expected = format!("line {at}, column 10: \"0.4 V\" is a voltage; a length is expected, for example \"7 m\"");
    assert!(text.starts_with(&expected[..40]) && text.contains("is a voltage; a length is expected"), "{text}");
    let text = Drive::from_toml_str("schema = 1\nname = ").unwrap_err().to_string();
    assert!(text.starts_with("line 2, column "), "{text}");
}

#[test]
fn exact_a_file_of_another_version() {
    assert_eq!(file("schema = 1", "schema = 7"), "`schema` is 7, but must be 1, the version that this library reads");
}

#[test]
fn exact_values_outside_their_range() {
    let text = file("length = \"7 m\"", "length = \"-7 m\"");
    assert_eq!(text, "part \"supply_cable\" (cable): `length` is -7 m, but must be above 0 m");
    let text = file("state_of_charge = \"90 %\"", "state_of_charge = 1.5");
    assert!(text.starts_with("part \"battery\" (battery): `state_of_charge` is 1.5, but must be "), "{text}");
    let at = line("capacity = \"100 Ah\"");
    let text = file("capacity = \"100 Ah\"", "capacity = nan");
    assert!(text.starts_with(&format!("line {at}, column 12: ")) && text.contains("NaN"), "{text}");
}

#[test]
fn exact_keys_that_do_not_exist() {
    let text = |key: &str| boat_lift().with_values([(key, 1.0)]).unwrap_err().to_string();
    assert_eq!(text("supply_cabel.length"), "`supply_cabel.length`: the drive has no table \"supply_cabel\"");
    assert!(text("supply_cable.lenght").starts_with("`supply_cable.lenght`: unknown field `lenght`"));
    assert!(
        text("ground_joint.resistance").starts_with("`ground_joint.resistance`: there is no joint \"ground_joint\"")
    );
    // A joint's name where no joint can be.
    assert!(
        text("load.x_joint.resistance")
            .ends_with("there is no entry \"x_joint\" in the list; it has 2, numbered from 0")
    );
    let in_a_list = text("load.ground_stud_joint.resistance");
    assert!(
        in_a_list.ends_with("there is no entry \"ground_stud_joint\" in the list; it has 2, numbered from 0"),
        "{in_a_list}"
    );
    let error = Fault::joint("ground_joint", 0.1).unwrap_err().to_string();
    assert!(
        error.starts_with("`part` is \"ground_joint\", but must be a joint of the drive: battery_positive_joint, ")
    );
    let error = boat_lift().stall_threshold("joint", Direction::Forward).unwrap_err().to_string();
    assert!(error.starts_with("`joint` is \"joint\", but must be one of battery_positive_joint, "), "{error}");
}

/// JSON has no NaN: it must not slip through as a value left out.
#[test]
fn exact_nan_for_a_value() {
    for key in ["supply_cable.length", "limits.time_to_speed", "supply_cable.ampacity"] {
        let error = boat_lift().with_values([(key, f64::NAN)]).unwrap_err().to_string();
        let expected = "no value; NaN and infinite numbers are none either, give a finite number";
        assert_eq!(error, format!("`{key}`: {expected}"));
    }
}

#[test]
fn exact_of_several_keys_the_wrong_one_is_named() {
    let keys = [("supply_cable.length", "9 m"), ("breaker.rated_curent", "60 A"), ("ground_cable.length", "9 m")];
    let error = boat_lift().with_values(keys).unwrap_err().to_string();
    assert!(error.starts_with("`breaker.rated_curent`: unknown field `rated_curent`, expected one of "), "{error}");
    let error = boat_lift().with_values([("limits.supply_drop", "150 %")]).unwrap_err().to_string();
    assert!(
        error.starts_with("part \"limits\" (limits): `supply_drop` is 1.5, but must be between 0 and 1"),
        "{error}"
    );
}

#[test]
fn exact_spans_of_time() {
    let error = Control::new().forward("1 s", "0.5 s").unwrap_err().to_string();
    assert_eq!(error, "`to` is 0.5 s, but must be later than its start at 1 s");
    let error = Control::new().forward(0.0, 1.0).unwrap().forward(0.5, 2.0).unwrap_err().to_string();
    assert_eq!(error, "`from` is 0.5 s, but must be at least 1 s, when the last forward call ends");
    let error = boat_lift().run(&Control::new(), 0.0).unwrap_err().to_string();
    assert_eq!(error, "the time span from 0 s to 0 s is empty: the end must be later than the start");
    let error = StartOptions::hold("3 V").unwrap_err().to_string();
    assert!(error.starts_with("`hold`: \"3 V\" is a voltage; a time is expected"), "{error}");
    assert!(matches!(StartOptions::hold(f64::NAN), Err(Error::Parameter(_))));
}

/// Slips of the pen are told, each by its key; the demo drives have none.
#[test]
fn exact_unlikely_data_are_doubted() {
    use stallpoint::drive::{CONVEYOR_GATE, STAGE_LIFT};
    for text in [BOAT_LIFT, STAGE_LIFT, CONVEYOR_GATE] {
        assert_eq!(Drive::from_toml_str(text).unwrap().doubts(), Vec::<String>::new());
    }
    for (key, value) in [
        ("contactor.coil.rated_voltage", "24 V"),
        ("contactor.coil.resistance", "8 kohm"),
        ("motor.resistance", "110 Mohm"),
        ("breaker.rated_current", "80 kA"),
        ("ground_stud_joint.resistance", "20 ohm"),
        ("supply_cable.length", "18 km"),
        ("load.0.breakaway", "1 N m"),
    ] {
        let drive = Drive::from_toml_str(BOAT_LIFT).unwrap().with_values([(key, value)]).unwrap();
        assert!(drive.doubts().iter().any(|doubt| doubt.starts_with(key)), "{key}: {:?}", drive.doubts());
    }
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let error = drive.with_values([("battery.state_of_charge", 80.0)]).unwrap_err().to_string();
    assert!(error.contains("\"80 %\" perhaps?"), "{error}");
}
