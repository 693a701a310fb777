//! Fuses among the candidates.

use serde_json::json;
use stallpoint::circuit::Signal;
use stallpoint::parts::Fuse;
use stallpoint::report::Verdict;
use stallpoint::studies::sizing::{Choice, Evidence, Row, SizingOptions, assess, size};
use stallpoint::studies::surge::surge_study;
use stallpoint::tables::trip_gates::FuseClass;

use super::support::with;

fn maxi(rated: &str) -> Row {
    let fuse = json!({"rated_current": rated, "class": "blade_maxi", "interrupting_capacity": "5 kA"});
    Row::new(format!("fuse {rated}"), [("fuse", fuse)])
}

/// A catalogue of breakers and fuses: each candidate is judged as what it is, and as the drive with it would be alone.
#[test]
fn exact_a_catalogue_may_hold_breakers_and_fuses() {
    let drive = with(&[]);
    let breaker = Row::new("breaker 80 A", [("breaker.rated_current", "80 A")]);
    let rows = [breaker, maxi("30 A"), maxi("60 A"), maxi("80 A")];
    let found = size(&drive, &[Choice::catalogue("protection", rows)]).unwrap();
    assert_eq!(found.candidates.len(), 4);
    let of = |name: &str| found.candidates.iter().find(|candidate| candidate.names[0] == name).unwrap();
    let nuisance =
        |name: &str| of(name).checks.iter().find(|check| check.key == "running_trip").map(|check| check.verdict);
    // 62.6 A running forward: above what the slowest 30 A holds (40.5 A), inside the band of 60 A (60 to 81 A).
    assert_eq!(nuisance("fuse 30 A"), Some(Verdict::Fail));
    assert_eq!(nuisance("fuse 60 A"), Some(Verdict::May));
    assert_eq!(nuisance("fuse 80 A"), Some(Verdict::Pass));
    let words = |name: &str| of(name).checks.iter().filter(|check| check.requirement.contains("fuse")).count();
    assert!(words("breaker 80 A") == 0 && words("fuse 80 A") >= 4);
    assert!(of("fuse 80 A").checks.iter().any(|check| check.key == "surge_i2t"));
    assert!(of("breaker 80 A").checks.iter().all(|check| check.key != "surge_i2t"));

    // As the study of that drive alone has it.
    let mut alone = drive.clone();
    alone.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A").unwrap()).unwrap();
    let study = surge_study(&alone).unwrap();
    let own = study.checks.iter().find(|check| check.key == "running_trip" && check.when.contains("forward")).unwrap();
    let here = of("fuse 80 A").checks.iter().find(|check| check.key == "running_trip").unwrap();
    assert_eq!(own.limit, here.limit);
    assert!((own.value.unwrap() / here.value.unwrap() - 1.0).abs() < 1e-4, "{own:?} {here:?}");
}

/// The fuse is held closed in the sizing's runs and still warms: its drop is the real one, its integrals come afterwards.
#[test]
fn exact_a_held_fuse_draws_what_a_whole_one_does() {
    let mut drive = with(&[]);
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A").unwrap()).unwrap();
    let mut options = SizingOptions::default();
    options.surge.transient.rtol = 1e-6;
    let evidence = Evidence::gather(&drive, &options).unwrap();
    let facts = &evidence.facts.directions[0];
    let study = stallpoint::studies::surge::surge_study_with(&drive, &options.surge, &mut |_| {
        stallpoint::circuit::Flow::Continue
    })
    .unwrap();
    let start = &study.directions[0].start;
    for (edge, name) in [(0.0, "trip_fraction_fastest"), (1.0, "trip_fraction_slowest")] {
        let within = start.run.extremes(&Signal::State("fuse".into(), name.into())).unwrap().max;
        let wave = &facts.start_current;
        let after = drive.protection().accumulate(edge, &wave.time, &wave.value, 0.0).largest;
        assert!(within > 1e-4 && (after / within - 1.0).abs() < 2e-3, "{name}: {after} against {within}");
    }
    assert!((facts.surge_i2t / start.surge.surge_i2t - 1.0).abs() < 1e-4);
    let last = *start.run.current("fuse").unwrap().last().unwrap();
    assert!((facts.breaker_at_end / last - 1.0).abs() < 1e-5, "{} {last}", facts.breaker_at_end);
}

/// A size that the class does not have is one rejected candidate, not the end of the search.
#[test]
fn exact_a_rating_that_the_class_lacks_is_rejected_with_its_reason() {
    let mut drive = with(&[]);
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A").unwrap()).unwrap();
    let found = size(&drive, &[Choice::list("fuse.rated_current", ["70 A", "125 A"])]).unwrap();
    let of = |name: &str| found.candidates.iter().find(|candidate| candidate.names[0] == name).unwrap();
    assert!(of("70 A").failure.is_none());
    let reason = of("125 A").failure.as_ref().unwrap();
    assert!(reason.contains("blade_maxi") && reason.contains("rated_current"), "{reason}");
    assert!(assess(&drive, &SizingOptions::default()).is_ok());
}
