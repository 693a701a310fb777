//! Swaps, wiring, the sheet.

use stallpoint::drive::{Direction, Drive, Fault};
use stallpoint::parts::Suppression;
use stallpoint::parts::motor::Swap;
use stallpoint::report::Verdict;
use stallpoint::studies::commissioning::{Wire, check_wiring, commissioning_sheet, swap_table, wiring_map};
use stallpoint::studies::faultfinding::{FaultTable, compare};

use super::support::{boat_lift, table};

/// The boat lift with a series motor of about the same stall torque (invented).
fn series() -> Drive {
    let text = stallpoint::drive::BOAT_LIFT;
    let start = text.find("[motor]").unwrap();
    let end = text[start..].find("[[load]]").unwrap() + start;
    let motor = r#"[motor]
kind = "series"
[motor.armature]
resistance = "30 mohm"
inductance = "100 uH"
brush_drop = "0.8 V"
[motor.field]
resistance = "12 mohm"
inductance = "200 uH"
magnetisation = { kind = "measured", speed = "1000 rpm", field_current = [40, 80, 160, 320], back_emf = [3.2, 5.2, 6.6, 7.4] }
[motor.rotor]
inertia = "0.002 kg m2"
"#;
    let text = format!("{}{motor}{}", &text[..start], &text[end..]);
    Drive::from_toml_str(&text).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn exact_truth_table_of_swaps() {
    let mut bare = boat_lift();
    bare.contactor.coil.suppression = Suppression::None;
    for row in swap_table(&bare).unwrap() {
        let odd = row.motor_wires ^ row.signal_wires ^ row.supply_and_ground ^ row.battery;
        assert_eq!(row.turns, if odd { [-1, 1] } else { [1, -1] }, "{row:?}");
    }
    // A diode across each coil conducts when the battery's posts are swapped.
    for row in swap_table(&boat_lift()).unwrap() {
        let odd = row.motor_wires ^ row.signal_wires ^ row.supply_and_ground;
        let wanted = if row.battery {
            [0, 0]
        } else if odd {
            [-1, 1]
        } else {
            [1, -1]
        };
        assert_eq!(row.turns, wanted, "{row:?}");
    }
    assert!(boat_lift().motor.reverses_on(Swap::SupplyAndGround));
}

#[test]
fn exact_wiring_is_checked_against_the_map() {
    let drive = boat_lift();
    assert_eq!(check_wiring(&drive, &wiring_map(&drive)).unwrap(), []);
    let found = [
        Wire::new("signal_wire_a", "control_out_a", "coil_b"),
        Wire::new("ground_cable", "battery_negative", "ground_stud"),
    ];
    let wrong = check_wiring(&drive, &found).unwrap();
    assert_eq!(wrong.len(), 1);
    assert!(wrong[0].words.contains("coil_b") && wrong[0].words.contains("other direction"));
    assert!(check_wiring(&drive, &[Wire::new("moon", "a", "b")]).unwrap_err().to_string().contains("moon"));
}

fn fill(sheet_of: &Drive, actual: &Drive, table: &FaultTable) -> Vec<(String, Verdict)> {
    let mut sheet = commissioning_sheet(sheet_of).unwrap();
    for line in 0..sheet.lines.len() {
        let reading = table.shown(actual, &sheet.lines[line].measurement).unwrap();
        sheet.fill(line, reading).unwrap();
    }
    let text = sheet.document().to_markdown();
    assert!(text.contains("Wiring map") && text.contains("turns backward"));
    sheet.lines.iter().map(|line| (line.measurement.to_string(), line.verdict)).collect()
}

#[test]
fn prop_the_sheet_passes_a_good_drive_and_fails_a_bad_joint() {
    let (drive, table) = (boat_lift(), table());
    assert!(fill(&drive, &drive, &table).iter().all(|(_, verdict)| *verdict == Verdict::Pass));
    let bad = drive.with_fault(&Fault::joint("ground_stud_joint", "30 mohm").unwrap()).unwrap();
    let filled = fill(&drive, &bad, &table);
    let of = |words: &str| filled.iter().find(|(line, _)| line == words).unwrap().1;
    assert_eq!(of("voltmeter, ground stud to ground stud lug, control forward"), Verdict::Fail);
    assert_eq!(of("voltmeter, supply stud to ground stud, control at rest"), Verdict::Pass);
}

#[test]
fn prop_volts_move_to_the_bad_joint() {
    let drive = boat_lift();
    let bad = drive.with_fault(&Fault::joint("ground_stud_joint", "0.13 ohm").unwrap()).unwrap();
    let compared = compare(&drive, &bad, Direction::Forward).unwrap();
    let at = |point: &str| compared.points.iter().position(|own| own == point).unwrap();
    let drop = |volts: &[f64]| volts[at("ground_stud")] - volts[at("ground_stud_lug")];
    assert!(drop(&compared.faulty[0]).abs() < 1e-3);
    assert!(drop(&compared.faulty[2]) > 5.0 && drop(&compared.healthy[2]) < 0.1);
}

#[test]
fn exact_truth_table_of_a_series_drive() {
    let mut bare = series();
    bare.contactor.coil.suppression = Suppression::None;
    for row in swap_table(&bare).unwrap() {
        // The field turns with the battery's posts, but not with the contactor's studs.
        let odd = row.motor_wires ^ row.signal_wires ^ row.supply_and_ground;
        assert_eq!(row.turns, if odd { [-1, 1] } else { [1, -1] }, "{row:?}");
    }
    assert!(!bare.motor.reverses_on(Swap::SupplyAndGround));
}
