//! Every part that a description can name keeps the contract of a part.

use serde_json::{Value, json};
use stallpoint::circuit::{ConformanceOptions, check_part};
use stallpoint::parts::{part_from, part_kinds};

/// The least that each kind needs. All values invented.
fn sample(kind: &str) -> Option<Value> {
    let armature = json!({ "resistance": 0.03, "inductance": 1e-4 });
    let field = |mutual: f64| json!({ "resistance": 0.02, "inductance": 1e-3, "magnetisation": { "kind": "linear", "mutual_inductance": mutual } });
    let rotor = json!({ "inertia": 0.01 });
    let points = json!({ "points": { "fastest": [[1.1, 900.0], [6.0, 1.0]], "slowest": [[1.4, 3600.0], [6.0, 4.0]] } });
    Some(match kind {
        "Battery" => json!({ "chemistry": "agm_lead_acid", "capacity": "100 Ah", "series_resistance": 0.006 }),
        "Breaker" => json!({ "rated_current": 80, "trip_band": points }),
        "Cable" => json!({ "cross_section": "16 mm2", "length": 7 }),
        "Capacitor" => json!({ "capacitance": 1e-3 }),
        "ClampAmmeter" => json!({ "bandwidth": "1 kHz", "peak_window": "1 ms" }),
        "Coil" => json!({ "rated_voltage": 12, "resistance": 8 }),
        "CompoundMotor" => {
            json!({ "armature": armature, "shunt": field(0.02), "series": { "resistance": 0.01, "turns_ratio": 0.003 }, "rotor": rotor })
        }
        "Conveyor" => {
            json!({ "mass": 600, "drum_radius": 0.05, "gear_ratio": 25, "efficiency": 0.8, "friction_coefficient": 0.25 })
        }
        "CurrentSource" => json!({ "current": 5 }),
        "Diode" | "Joint" | "Switch" | "Voltmeter" => json!({}),
        "EndStop" => json!({ "forward": "90 rad" }),
        "Fuse" => json!({ "rated_current": 20, "class": "blade_ato" }),
        "GravityTorque" => json!({ "torque": 1 }),
        "Hoist" => json!({ "mass": 500, "drum_radius": 0.05, "gear_ratio": 50, "efficiency": 0.8 }),
        "HydraulicPump" => {
            json!({ "displacement_per_turn": "4 cm3", "relief_pressure": "140 bar", "forward_pressure": "100 bar", "reverse_pressure": "45 bar" })
        }
        "Inductor" => json!({ "inductance": 1e-3 }),
        "PermanentMagnetMotor" => {
            json!({ "resistance": 0.03, "inductance": 1e-4, "torque_constant": 0.05, "inertia": 0.004 })
        }
        "QuadraticTorque" => json!({ "coefficient": 1e-5 }),
        "ResistingTorque" => json!({ "running": 2.5, "breakaway": 3.1 }),
        "Resistor" => json!({ "resistance": 2 }),
        "ReversingContactor" => {
            json!({ "coil": { "rated_voltage": 12, "resistance": 8 }, "pull_in_voltage": 7.8, "drop_out_voltage": 4.5 })
        }
        "SeriesMotor" | "ShuntMotor" => json!({ "armature": armature, "field": field(0.02), "rotor": rotor }),
        "TestLamp" => json!({ "rated_voltage": 12, "rated_power": 21 }),
        "ViscousTorque" => json!({ "coefficient": 1e-3 }),
        "VoltageSource" => json!({ "voltage": 12 }),
        "WormGear" => json!({ "ratio": 40, "efficiency": 0.4 }),
        _ => return None,
    })
}

#[test]
fn prop_every_part_of_the_list_conforms() {
    let mut failed = Vec::new();
    for kind in part_kinds() {
        let Some(parameters) = sample(kind) else {
            failed.push(format!("{kind}: give it a sample in this test"));
            continue;
        };
        match part_from(kind, parameters).map(|part| check_part(&*part, &ConformanceOptions::default())) {
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
