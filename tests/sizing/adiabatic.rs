//! Withstand of a cable in a search: k²S² of IEC 60364-5-54 against the slowest breaker.

use stallpoint::parts::TripBand;
use stallpoint::studies::sizing::{SizingOptions, assess};
use stallpoint::studies::surge::adiabatic_time;

use super::support::with;

/// With a breaker that always takes 1 s the smallest cable is S = I √t / k, I the dead short's current: the standard's formula.
#[test]
fn val_the_least_cross_section_is_i_root_t_over_k() {
    let at = |mm2: f64| {
        let mut drive = with(&[("ground_cable.length", "0.5 m")]);
        // A second at any overload, so that the dead short is the worst of all currents.
        drive.breaker.as_mut().unwrap().trip_band =
            TripBand::points([[1.1, 0.9], [400.0, 0.9]], [[1.35, 1.0], [400.0, 1.0]]).unwrap();
        drive.ground_cable.cross_section = format!("{mm2} mm2").parse().unwrap();
        drive.ground_cable.ampacity = Some("200 A".parse().unwrap());
        drive
    };
    let check = |mm2: f64| {
        let found = assess(&at(mm2), &SizingOptions::default()).unwrap();
        let fault = found.of("interrupting").unwrap().value.unwrap();
        let own =
            found.checks.iter().find(|check| check.requirement.contains("before the ground cable")).unwrap().clone();
        (fault, own)
    };
    let (fault, _) = check(16.0);
    let least = fault * 1.0_f64.sqrt() / 115.0; // k of copper in PVC, IEC 60364-5-54 Annex A
    assert!((adiabatic_time(&at(least).ground_cable, fault).unwrap() - 1.0).abs() < 1e-9);
    // What gets out by the ampacity's heat balance within a second is below 2 %.
    assert!(check(1.001 * least).1.met());
    assert!(check(0.98 * least).1.broken(), "{:?}", check(0.98 * least).1);
}
