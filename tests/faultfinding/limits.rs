//! The library's published limits against the copied source.

use stallpoint::studies::faultfinding::service_limits;

/// US Army TM 5-3820-256-24-4 and TM 10-3930-671-24 as copied to `tests/reference/service_limits.toml`.
#[test]
fn val_service_limits_are_those_of_the_source() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/service_limits.toml");
    let source: toml::Table = toml::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let of = |table: &str, key: &str| source[table][key].as_float().unwrap();
    let limit = |of: &str, volts: f64| service_limits().iter().find(|l| l.of == of && l.volts == volts).unwrap();
    for (name, table, key) in [
        ("joint", "vdrop_12V_cranking", "each_connection_V"),
        ("supply_cable", "vdrop_12V_cranking", "cable_3_to_6ft_V"),
        ("supply_side", "vdrop_12V_cranking", "insulated_side_total_example_V"),
        ("switch", "vdrop_12V_cranking", "mechanical_switch_V"),
        ("contactor", "vdrop_12V_cranking", "magnetic_switch_V"),
        ("ground", "vdrop_12V_cranking", "ground_side_V"),
        ("control", "vdrop_per_100A", "solenoid_control_circuit_faulty_from_V"),
    ] {
        assert_eq!(limit(name, 12.0).highest, Some(of(table, key)), "{name}");
    }
    let second = |key: &str| source["vdrop_12_24V_engine"][key][1].as_float().unwrap();
    assert_eq!(limit("ground", 24.0).highest, Some(second("drop_battery_minus_to_motor_minus_V")));
    assert_eq!(limit("switch", 24.0).highest, Some(second("drop_disconnect_switch_V")));
    assert_eq!(limit("supply_side", 24.0).highest, Some(second("drop_battery_plus_to_solenoid_terminal_V")));
    let cable = of("vdrop_24V_truck", "battery_to_solenoid_cable_max_V");
    assert_eq!(limit("supply_cable", 24.0).highest, Some(cable));
    let control = source["solenoid_control_circuit"]["max_drop_V_at_20C"]["24"].as_float().unwrap();
    assert_eq!(limit("control", 24.0).highest, Some(control));
    assert_eq!(limit("battery", 12.0).lowest, Some(of("vdrop_per_100A", "battery_under_crank_bad_below_V")));
}

/// A limit for another voltage says so; one for each battery counts those in series.
#[test]
fn exact_limits_say_for_which_voltage_they_are() {
    let of = |of: &str| service_limits().iter().find(|limit| limit.of == of).unwrap();
    assert!(of("battery").for_drive(24.0).contains("19.2 V for 2 in series"), "{}", of("battery").for_drive(24.0));
    assert!(of("joint").for_drive(24.0).contains("published for 12 V, a yardstick at 24 V"));
    assert!(!of("joint").for_drive(12.0).contains("yardstick"));
}
