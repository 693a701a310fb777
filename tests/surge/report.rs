//! The report: complete, legible, the same in every form.

use super::support::{boat_lift, study, with};

/// Our own golden value: the whole report of the boat lift.
#[test]
fn regress_the_boat_lift_as_text() {
    insta::assert_snapshot!(study(&[]).to_text());
}

#[test]
fn exact_lines_fit_and_sections_follow_in_order() {
    let text = study(&[]).to_text();
    assert!(text.lines().all(|line| line.chars().count() <= 120), "{text}");
    let sections = [
        "The drive as understood\n---",
        "Verdict\n---",
        "Requirements\n---",
        "The start-up surge\n---",
        "Peak currents by part\n---",
        "Where the volts go\n---",
        "Stalled, control held\n---",
        "Assumptions\n---",
        "Cautions\n---",
        "Sources\n---",
    ];
    let places: Vec<usize> = sections.iter().map(|heading| text.find(heading).expect(heading)).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn exact_every_form_holds_every_requirement_failures_first() {
    let study = study(&[]);
    let (markdown, html) = (study.to_markdown(), study.to_html());
    for check in &study.checks {
        assert!(markdown.contains(&check.requirement) && html.contains(&check.requirement), "{}", check.requirement);
    }
    let first = |verdict: &str| markdown.find(&format!("| {verdict} |")).unwrap();
    assert!(first("fail") < first("may") && first("may") < first("marginal") && first("marginal") < first("pass"));
    assert!(study.summary().starts_with("2 fail, 2 may, "), "{}", study.summary());
}

#[test]
fn exact_the_name_is_escaped_in_html() {
    let mut drive = boat_lift();
    drive.name = "<b>|lift".into();
    let study = stallpoint::studies::surge::surge_study(&drive).unwrap();
    assert!(study.to_html().contains("<h1>Surge study: &lt;b&gt;|lift</h1>"));
    assert!(study.to_markdown().starts_with("# Surge study: &lt;b>\\|lift\n"));
}

/// Braking through the motor never passes the breaker, and the report says when it exceeds the surge.
#[test]
fn exact_braking_that_exceeds_the_surge_is_said() {
    // Short motor leads and a long dock: the motor brakes through little resistance, and starts through much.
    let far = with(&[("supply_cable.length", "25 m"), ("ground_cable.length", "25 m"), ("load.0.running", "0.5 N m")]);
    let text = stallpoint::studies::surge::surge_study(&far).unwrap().to_text().replace('\n', " ");
    assert!(text.contains("more than the start-up surge of"), "{text}");
    assert!(text.contains("This current never passes the breaker, so nothing but"));
    let text = study(&[]).to_text().replace('\n', " ");
    assert!(text.contains("less than the start-up surge of 161 A here. This current never passes the breaker."));
}

#[test]
fn exact_cautions_follow_the_drive() {
    let text = study(&[("breaker.reset", "manual"), ("battery.chemistry", "lithium_iron_phosphate")]).to_text();
    assert!(!text.contains("resets by itself and can restart") && !text.contains("Lead-acid"));
    let text = study(&[]).to_text();
    assert!(text.contains("resets by itself and can restart") && text.contains("Lead-acid"));
    assert!(text.contains("Do not hold a stalled motor longer than 18 s"), "{text}");
}

#[test]
fn exact_the_same_study_reads_the_same() {
    assert_eq!(study(&[]).to_text(), study(&[]).to_text());
}
