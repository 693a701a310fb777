//! What may weld the contactor's contacts.

use stallpoint::drive::Drive;
use stallpoint::parts::MovingArmature;
use stallpoint::quantity::JouleIntegral;
use stallpoint::report::Verdict;
use stallpoint::studies::sizing::{Evidence, SizingOptions, assess};

use super::hair::Trial;
use super::support::{at, with};

fn detailed(values: &[(&str, f64)]) -> Drive {
    let mut drive = at(&[("limits.making_arc_energy", "10 kJ")], values);
    drive.limits.making_bounce_i2t.get_or_insert(JouleIntegral::from_si(1e6));
    drive.contactor.detailed = Some(MovingArmature::default());
    drive
}

/// Closed resistance times current against the voltage at which silver's spots melt: 0.3748 V in Holm's closed form.
#[test]
fn exact_closed_contacts() {
    let found = assess(&with(&[]), &SizingOptions::default()).unwrap();
    let check = found.of("weld_voltage").unwrap();
    assert!((check.limit.unwrap() / 0.3748 - 1.0).abs() < 2e-4, "{check:?}");
    let peak = found.of("making").unwrap().value.unwrap();
    assert!((check.value.unwrap() / (0.3e-3 * peak) - 1.0).abs() < 1e-9, "{check:?}");
    let wide = [("limits.contactor_drop", "20 %"), ("limits.time_to_speed", "10 s")];
    let drive = |ohms: f64| at(&wide, &[("contactor.contacts.closed_resistance", ohms)]);
    Trial::circuit("weld_voltage", &drive, 0.3e-3, 3e-3).hangs_by_a_hair();
}

/// In detailed fidelity the bounces of a making are held against what data sheet or test say.
#[test]
fn exact_bouncing_contacts() {
    let evidence = Evidence::gather(&detailed(&[]), &SizingOptions::default()).unwrap();
    let weld = &evidence.facts.weld;
    let (energy, i2t) = (weld.arc_energy.as_ref().unwrap().value, weld.bounce_i2t.as_ref().unwrap().value);
    assert!(energy > 0.0 && i2t > 0.0);
    for (key, limit, found) in
        [("weld_arc_energy", "limits.making_arc_energy", energy), ("weld_i2t", "limits.making_bounce_i2t", i2t)]
    {
        let drive = |x: f64| detailed(&[(limit, x)]);
        Trial::rating(key, &drive, 2.0 * found, 0.5 * found).hangs_by_a_hair();
    }
}

/// Without a limit, or without the fidelity that knows the figure, it is not checked; without both nobody asks.
#[test]
fn exact_what_is_not_known_is_not_checked() {
    let keys = ["weld_arc_energy", "weld_i2t"];
    let quick = assess(&with(&[]), &SizingOptions::default()).unwrap();
    assert!(keys.iter().all(|key| quick.of(key).is_none()));
    let limited = assess(&with(&[("limits.making_arc_energy", "5 J")]), &SizingOptions::default()).unwrap();
    let check = limited.of("weld_arc_energy").unwrap();
    assert!(check.verdict == Verdict::NotChecked && check.basis.contains("contactor.detailed"), "{check:?}");
    let mut moving = with(&[]);
    moving.contactor.detailed = Some(MovingArmature::default());
    let found = assess(&moving, &SizingOptions::default()).unwrap();
    for key in keys {
        let check = found.of(key).unwrap();
        assert!(check.verdict == Verdict::NotChecked && check.value.unwrap() > 0.0, "{check:?}");
        assert!(check.basis.contains("limits.making_"), "{check:?}");
    }
}
