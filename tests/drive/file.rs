//! Drives in files.

use stallpoint::drive::{Direction, Drive};

use super::support::{boat_lift, start};

#[test]
fn exact_toml_round_trip_is_lossless() {
    let drive = boat_lift();
    let again = Drive::from_toml_str(&drive.to_toml().unwrap()).unwrap();
    assert_eq!(drive, again);
    let bits = |drive: &Drive| -> Vec<u64> {
        let run = start(drive, Direction::Forward, 0.3);
        run.current("motor").unwrap().iter().map(|value| value.to_bits()).collect()
    };
    assert_eq!(bits(&drive), bits(&again));
}

#[test]
fn exact_json_round_trip_is_lossless() {
    let drive = boat_lift().with_values([("supply_cable.length", 0.1 + 0.2)]).unwrap();
    let text = serde_json::to_string(&drive.to_value().unwrap()).unwrap();
    assert_eq!(Drive::from_value(serde_json::from_str(&text).unwrap()).unwrap(), drive);
}

#[test]
fn exact_schema_names_every_table() {
    let schema = Drive::json_schema();
    for table in ["battery", "breaker", "supply_cable", "contactor", "motor", "load", "joints", "control", "limits"] {
        assert!(schema.contains(&format!("\"{table}\"")), "{table}");
    }
}

#[test]
fn exact_a_changed_value_makes_a_copy() {
    let drive = boat_lift();
    let longer = drive.with_values([("supply_cable.length", "14 m")]).unwrap();
    assert_eq!((drive.supply_cable.length.si(), longer.supply_cable.length.si()), (7.0, 14.0));
    let joint = drive.with_values([("supply_stud_joint.resistance", 0.01)]).unwrap();
    assert_eq!(joint.joint("supply_stud_joint").unwrap().resistance.si(), 0.01);
    assert_eq!(drive.joint("supply_stud_joint").unwrap().resistance.si(), 1e-4);
}

#[test]
fn exact_an_error_in_a_file_names_the_file() {
    let path = std::env::temp_dir().join("stallpoint_names_the_file.toml");
    let write = |text: &str| std::fs::write(&path, text).unwrap();
    let told = || Drive::from_toml_file(&path).unwrap_err().to_string();
    write("schema = 1\nnam = \"x\"\n");
    assert!(told().starts_with(&format!("file \"{}\": line ", path.display())), "{}", told());
    write(&stallpoint::drive::BOAT_LIFT.replace("rated_current = \"80 A\"", "rated_current = \"-80 A\""));
    let said = told();
    assert!(said.contains("stallpoint_names_the_file.toml") && said.contains("`rated_current` is -80 A"), "{said}");
    std::fs::remove_file(&path).unwrap();
}
