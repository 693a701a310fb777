//! A drive behind a fuse: its points have the fuse's name, and a blown fuse is found.

use stallpoint::circuit::Flow;
use stallpoint::drive::{Drive, Fault};
use stallpoint::parts::Fuse;
use stallpoint::studies::commissioning::wiring_map;
use stallpoint::studies::faultfinding::{FaultFinder, FaultTable, Held, StopRule, TableOptions, Tool, compare};
use stallpoint::tables::trip_gates::FuseClass;

use super::support::{boat_lift, volts};

fn fused() -> Drive {
    let mut drive = boat_lift();
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A").unwrap()).unwrap();
    drive
}

#[test]
fn prop_a_blown_fuse_is_found_and_nobody_is_told_to_watch_a_breaker() {
    let drive = fused();
    let options = TableOptions { draws: 2, ..TableOptions::default() };
    let table = FaultTable::build(&drive, &options, &mut |_| Flow::Continue).unwrap();
    let blown = drive.with_fault(&Fault::new("fuse", "blown")).unwrap();
    let mut finder = FaultFinder::on(std::sync::Arc::new(table));
    // Across a blown fuse stands the battery while something behind it is switched on.
    let across = finder.table().shown(&blown, &volts(Held::Forward, "fuse_in", "fuse_out")).unwrap();
    assert!(super::support::number(&across) > 12.0, "{across:?}");
    for made in 0.. {
        assert!(made < 25);
        let Some(next) = finder.next_test(&StopRule::default()).unwrap() else { break };
        assert!(next.measurement.tool != Tool::WatchBreaker);
        let text = format!("{:?}", next.measurement);
        assert!(!text.contains("breaker"), "{text}");
        let answer = finder.table().shown(&blown, &next.measurement).unwrap();
        finder.observe(&next.measurement, &answer).unwrap();
    }
    let ranking = finder.ranking();
    let found: Vec<String> = ranking
        .iter()
        .take(3)
        .filter_map(|r| Some(format!("{} {}", r.fault.as_ref()?.part, r.fault.as_ref()?.mode)))
        .collect();
    assert_eq!(found[0], "fuse blown", "{found:?}");
    let steps = FaultFinder::on(finder.table().clone().into()).steps().unwrap();
    let at_rest = &steps[1];
    assert!(at_rest.tests.iter().any(|words| words.contains("the fuse is blown")), "{:?}", at_rest.tests);
    assert!(steps.iter().all(|step| step.tests.iter().all(|words| !words.contains("breaker"))));
}

#[test]
fn exact_points_and_wires_have_the_fuses_name() {
    let drive = fused();
    let map = wiring_map(&drive);
    assert!(map.iter().any(|wire| wire.wire == "supply_cable" && wire.from == "fuse_out"), "{map:?}");
    assert!(map.iter().any(|wire| wire.wire == "control_supply_wire" && wire.from == "fuse_in"), "{map:?}");
    let bad = drive.with_fault(&Fault::new("fuse", "burnt").with_amount(20e-3)).unwrap();
    let compared = compare(&drive, &bad, stallpoint::drive::Direction::Forward).unwrap();
    let [line, load] = ["fuse_in", "fuse_out"].map(|name| compared.points.iter().position(|p| p == name).unwrap());
    let drop = |volts: &[f64]| volts[line] - volts[load];
    assert!(drop(&compared.faulty[2]) > 15.0 * drop(&compared.healthy[2]), "{:?}", compared.faulty[2]);
}
