//! The library's published limits against the copied source.

use stallpoint::studies::faultfinding::service_limits;

/// US Army TM 5-3820-256-24-4 and TM 10-3930-671-24 as copied to `tests/reference/service_limits.toml`.
#[test]
fn val_service_limits_are_those_of_the_source() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/service_limits.toml");
    let source: toml::Table = toml::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let of = |table: &str, key: &str| source[table][key].as_float().unwrap();
    let limit = |of: &str| service_limits().iter().find(|limit| limit.of == of).unwrap();
    for (name, table, key) in [
        ("joint", "vdrop_12V_cranking", "each_connection_V"),
        ("supply_cable", "vdrop_12V_cranking", "cable_3_to_6ft_V"),
        ("switch", "vdrop_12V_cranking", "mechanical_switch_V"),
        ("contactor", "vdrop_12V_cranking", "magnetic_switch_V"),
        ("ground", "vdrop_12V_cranking", "ground_side_V"),
        ("control", "vdrop_per_100A", "solenoid_control_circuit_faulty_from_V"),
    ] {
        assert_eq!(limit(name).highest, Some(of(table, key)), "{name}");
    }
    assert_eq!(limit("battery").lowest, Some(of("vdrop_per_100A", "battery_under_crank_bad_below_V")));
}
