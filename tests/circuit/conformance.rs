//! Every part that a description can name keeps the contract of a part.

use serde_json::json;
use stallpoint::circuit::{ConformanceOptions, check_part};
use stallpoint::parts::{part_example, part_from, part_kinds};

#[test]
fn prop_every_part_of_the_list_conforms() {
    let mut failed = Vec::new();
    for kind in part_kinds() {
        let example = part_example(kind).unwrap_or_else(|| panic!("{kind} has no example"));
        match part_from(kind, example).map(|part| check_part(&*part, &ConformanceOptions::default())) {
            Ok(Ok(found)) => assert!(found.states > 0 && found.linear_content, "{kind}: {found:?}"),
            Ok(Err(error)) => failed.push(format!("{kind}: {error}")),
            Err(error) => failed.push(format!("{kind}: {error}")),
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn prop_a_cable_that_heats_conforms() {
    // Without inductance: the check differences the stored energy over 1e-12 s with it, where the rounding of
    // the temperature hides the rate. With inductance, the run in tests/supply/cable_heat.rs balances its energy.
    let text = json!({
        "cross_section": "16 mm2", "length": 7, "ampacity": 90, "heats": true, "inductance_per_metre": 0,
    });
    let found = check_part(&*part_from("Cable", text).unwrap(), &ConformanceOptions::default()).unwrap();
    assert!(found.states > 0 && found.linear_content, "{found:?}");
}
