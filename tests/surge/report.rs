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

/// Three pictures, and nothing that is fetched: no address, no script, no link, no image from elsewhere.
#[test]
fn exact_the_page_needs_nothing_else() {
    for values in [&[][..], &[("ground_stud_joint.resistance", "30 mohm"), ("control.coil_return", "ground_stud")]] {
        let html = study(values).to_html();
        assert_eq!(html.matches("<svg ").count(), 3);
        assert_eq!((html.matches("<figure>").count(), html.matches("</figure>").count()), (3, 3));
        for fetched in ["http", "<script", "<link", "<img", "src=", "@import", "NaN", "inf"] {
            assert!(!html.replace("infinite", "").contains(fetched), "{fetched}");
        }
        assert_eq!(html.matches("<text").count(), html.matches("</text>").count());
    }
}

/// A picture of the loop names every joint's stud and marks a bad one.
#[test]
fn exact_the_loop_shows_its_studs_and_marks_a_bad_joint() {
    let good = study(&[]).to_html();
    for stud in ["battery_positive 0.1 mΩ", "supply_stud 0.1 mΩ", "ground_stud 0.2 mΩ", "battery_negative 0.1 mΩ"] {
        assert!(good.contains(&format!(" {stud}</text>")), "{stud}");
    }
    let bold = "font-weight=\"bold\">11 ground_stud 30 mΩ</text>";
    let bad = study(&[("ground_stud_joint.resistance", "30 mohm")]).to_html();
    assert!(bad.contains(bold) && !good.contains("font-weight=\"bold\">11 ground_stud"));
    let case = study(&[("control.coil_return", "case")]).to_html();
    assert!(case.contains("coil return: to the case") && !good.contains("coil return: to the case"));
}

#[test]
fn exact_what_is_not_checked_is_grouped_by_what_is_missing() {
    let text = study(&[("limits.supply_drop", "left out"), ("supply_cable.ampacity", "left out")]).to_text();
    let text = text.replace("\n  ", " ");
    let group = "- the supply cable's ampacity is missing: ";
    assert_eq!(text.matches(group).count(), 1, "{text}");
    let line = text.lines().find(|line| line.starts_with(group)).unwrap();
    assert_eq!(line.matches("supply cable").count(), 4, "{line}"); // three requirements and the datum
    // Forward and reverse ask the same, but find different values.
    assert_eq!(text.matches("limits.supply_drop is missing").count(), 1);
    assert!(!text.contains("not checked  "), "no row of the table");
}

/// What a cold reader stumbled over.
#[test]
fn exact_words_fit_the_drive() {
    let inverse = r#"{"inverse_time": {"curve": "iec_very_inverse", "time_multiplier": 0.5, "tolerance": "10 %"}}"#;
    let mut drive = boat_lift().to_value().unwrap();
    drive["breaker"]["trip_band"] = serde_json::from_str(inverse).unwrap();
    drive["joints"] = serde_json::json!({});
    let drive = stallpoint::Drive::from_value(drive).unwrap();
    let text = stallpoint::studies::surge::surge_study(&drive).unwrap().to_text().replace('\n', " ");
    assert!(text.contains("begins to trip at 80 A (fastest and slowest device alike)"), "{text}");
    assert!(text.contains("pick-up of the inverse-time curve: the rated current") && !text.contains("first row"));
    assert!(text.contains("as new, 0.1 mΩ each (none is described)") && !text.contains("every other"));
    let text = study(&[]).to_text();
    assert!(text.contains("- forward and reverse, ground_stud_joint as new:"));
    assert!(text.contains("91.6 mΩ") && !text.contains("91.7 mΩ"));
}
