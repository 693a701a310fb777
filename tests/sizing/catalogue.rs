//! What can be chosen, and what it weighs.

use serde_json::Value;
use stallpoint::studies::sizing::{Choice, conductor_mass};

use super::support::boat_lift;

#[test]
fn exact_lists_become_rows() {
    let list = Choice::list("breaker.rated_current", [60, 80]);
    assert_eq!((list.name.as_str(), list.rows[1].name.as_str()), ("breaker.rated_current", "80"));
    assert_eq!(list.rows[0].values, [("breaker.rated_current".to_string(), Value::from(60))]);
    let both = Choice::together(&["supply_cable.cross_section", "ground_cable.cross_section"], ["16 mm2"]);
    assert_eq!(both.rows[0].values.len(), 2);
}

/// By hand: 2 x 7 m and 2 x 0.6 m of 16 mm², 0.7 m of 25 mm², 8960 kg/m³.
#[test]
fn exact_mass_of_the_conductors() {
    let expected = 8960.0 * (15.2 * 16e-6 + 0.7 * 25e-6);
    assert!((conductor_mass(&boat_lift()) / expected - 1.0).abs() < 1e-12);
}
