//! The requirements of a duty cycle.

use super::bodies::CONTACTS;
use super::study::{DutyStudy, PartDuty, edges};
use crate::parts::ContactorDuty;
use crate::report::{Check, Side, Verdict, quantity};

pub(super) fn checks(study: &DutyStudy) -> Vec<Check> {
    let mut checks = vec![runs(study), stays_in(study)];
    checks.extend(warm_parts(study));
    checks.extend(breaker(study));
    checks.extend([on_time(study)]);
    checks.extend(duty_factor(study));
    checks.push(carries(study));
    checks.extend(hot_coil(study));
    checks
}

/// In which state of the cycle a highest value is.
fn when(study: &DutyStudy, part: &PartDuty) -> String {
    let cycle = study.cycle.to_string();
    match part.highest.is_finite() && study.cycle.time().is_some() {
        true => format!("{cycle}, {} into the steady cycle", quantity(part.highest_at, "s")),
        false => cycle,
    }
}

fn runs(study: &DutyStudy) -> Check {
    let stalled = study.spans.iter().filter(|span| span.stalled).count();
    let basis = "a stalled motor is no duty: see the surge study for how long it may be held";
    counted("The motor turns at the end of every span", stalled, basis, study)
}

fn stays_in(study: &DutyStudy) -> Check {
    let basis = "every drop-out breaks and makes the surge again: none is allowed";
    counted("The contactor does not let go while it is energised", study.dropouts, basis, study)
}

fn counted(requirement: &str, found: usize, basis: &str, study: &DutyStudy) -> Check {
    let check = Check::against(requirement, found as f64, Side::AtMost, 0.0, "1", basis, study.cycle.to_string());
    Check { margin: None, ..check.judged(if found == 0 { Verdict::Pass } else { Verdict::Fail }) }
}

/// Winding, conductors, coils.
fn warm_parts(study: &DutyStudy) -> Vec<Check> {
    let requirement = |part: &str| match part.strip_prefix("coil ") {
        Some(letter) => format!("Coil {letter} does not get too warm"),
        None => format!("The {part} does not get too warm"),
    };
    let mut checks: Vec<Check> = Vec::new();
    for part in study.parts.iter().filter(|part| part.unit == "degC") {
        checks.push(match part.limit {
            Some(limit) => rise(requirement(&part.part), part, limit, when(study, part)),
            None => {
                let value = Some(part.highest).filter(|value| value.is_finite());
                Check::missing(requirement(&part.part), value, part.unit, part.basis.clone(), when(study, part))
            }
        });
    }
    let contact = |name: &str| CONTACTS.iter().any(|(contact, _)| *contact == name);
    for unknown in study.not_known.iter().filter(|unknown| !contact(&unknown.part)) {
        let cycle = study.cycle.to_string();
        checks.push(Check::missing(requirement(&unknown.part), None, "degC", unknown.missing.clone(), cycle));
    }
    checks
}

/// A temperature against its limit, the margin by the rise over the cold part.
fn rise(requirement: String, part: &PartDuty, limit: f64, when: String) -> Check {
    let basis = part.basis.clone();
    let check = Check::against(requirement, part.highest, Side::AtMost, limit, part.unit, basis, when);
    // Zero degrees Celsius is nothing to measure a margin from.
    let margin = (limit - part.highest) / (limit - part.cold);
    let verdict = match margin {
        margin if !(margin >= 0.0) => Verdict::Fail,
        margin if margin < Check::MARGINAL => Verdict::Marginal,
        _ => Verdict::Pass,
    };
    Check { margin: Some(margin).filter(|margin| margin.is_finite()), verdict, ..check }
}

fn breaker(study: &DutyStudy) -> Option<Check> {
    let (fastest, slowest) = edges(study)?;
    let device = study.drive.protection();
    let requirement = match device.name() {
        "fuse" => "The cycle never blows the fuse",
        _ => "The cycle never trips the breaker",
    };
    let basis = "fast edge of the trip band: the accumulated trip fraction, which decays while the current is low, stays below 1";
    let check = Check::against(requirement, fastest.highest, Side::AtMost, 1.0, "1", basis, when(study, fastest));
    let verdict = match (fastest.highest < 1.0, slowest.highest < 1.0) {
        (true, _) => check.verdict,
        (false, true) => Verdict::May,
        (false, false) => Verdict::Fail,
    };
    Some(Check { margin: check.margin.filter(|margin| margin.is_finite()), ..check.judged(verdict) })
}

fn on_time(study: &DutyStudy) -> Check {
    let requirement = "The contactor may be energised as long as the cycle asks";
    let answer = &study.contactor;
    let (longest, cycle) = (answer.longest(), study.cycle.to_string());
    let rated = study.drive.contactor.duty_rating.longest_on_time;
    match (answer.described, rated) {
        (Some(ContactorDuty::Continuous), _) => Check {
            margin: None,
            ..Check::against(
                requirement,
                longest,
                Side::AtMost,
                f64::INFINITY,
                "s",
                "contactor.duty = \"continuous\", data sheet",
                cycle,
            )
        }
        .judged(Verdict::Pass),
        (_, Some(rated)) => {
            let basis = "contactor.duty_rating.longest_on_time, data sheet";
            let check = Check::against(requirement, longest, Side::AtMost, rated.si(), "s", basis, cycle);
            Check { margin: check.margin.filter(|margin| margin.is_finite()), ..check }
        }
        (Some(ContactorDuty::Intermittent), None) if longest.is_infinite() => {
            let basis = "contactor.duty = \"intermittent\", data sheet: not for ever";
            Check::missing(requirement, Some(longest), "s", basis, cycle).judged(Verdict::Fail)
        }
        (Some(ContactorDuty::Intermittent), None) => {
            Check::missing(requirement, Some(longest), "s", "contactor.duty_rating.longest_on_time is missing", cycle)
        }
        (None, None) => Check::missing(requirement, Some(longest), "s", "contactor.duty is missing", cycle),
    }
}

/// Whichever coil is energised, the contactor as a whole is.
fn duty_factor(study: &DutyStudy) -> Option<Check> {
    let requirement = "The contactor's duty factor covers the cycle";
    let answer = &study.contactor;
    // What is held for ever is a matter of the time at a stretch.
    let share = answer.duty_factor.filter(|_| answer.longest().is_finite())?;
    let cycle = study.cycle.to_string();
    let rated = study.drive.contactor.duty_rating.duty_factor;
    Some(match (answer.described, rated) {
        (Some(ContactorDuty::Continuous), _) => {
            let basis = "contactor.duty = \"continuous\", data sheet";
            Check { margin: None, ..Check::against(requirement, share, Side::AtMost, 1.0, "1", basis, cycle) }
                .judged(Verdict::Pass)
        }
        (_, Some(rated)) => {
            let basis = "contactor.duty_rating.duty_factor, data sheet";
            Check::against(requirement, share, Side::AtMost, rated.si(), "1", basis, cycle)
        }
        (Some(ContactorDuty::Intermittent), None) => {
            Check::missing(requirement, Some(share), "1", "contactor.duty_rating.duty_factor is missing", cycle)
        }
        (None, None) => Check::missing(requirement, Some(share), "1", "contactor.duty is missing", cycle),
    })
}

/// The main contacts against the carrying current: settled, or by their heat where the path's time constant is known.
fn carries(study: &DutyStudy) -> Check {
    let requirement = "The contacts carry the cycle's current";
    let (answer, cycle) = (&study.contactor, study.cycle.to_string());
    let Some(carrying) = study.drive.contactor.carrying_current.map(|current| current.si()) else {
        let value = Some(answer.settled_current);
        return Check::missing(requirement, value, "A", "contactor.carrying_current is missing", cycle);
    };
    let (settled, rms) = (answer.settled_current, answer.rms_current);
    let against = |value: f64, basis: &str, when: String| {
        Check::against(requirement, value, Side::AtMost, carrying, "A", basis, when)
    };
    if answer.described == Some(ContactorDuty::Intermittent) {
        let basis = "contactor.carrying_current, data sheet, for as long as its intermittent duty allows";
        return against(settled, basis, format!("settled, {cycle}"));
    }
    let contacts = study.parts.iter().filter(|part| CONTACTS.iter().any(|(contact, _)| *contact == part.part));
    if let Some(warmest) = contacts.max_by(|a, b| a.highest.total_cmp(&b.highest)) {
        let basis = "rise at contactor.carrying_current, with contactor.duty_rating.contact_time_constant";
        let when = format!("{}, {}", warmest.part, when(study, warmest));
        return Check::against(requirement, warmest.highest, Side::AtMost, 1.0, "1", basis, when);
    }
    let basis = "contactor.carrying_current, data sheet";
    if settled <= carrying {
        return against(settled, basis, format!("settled, {cycle}"));
    }
    if rms > carrying {
        return against(rms, basis, format!("rms, {cycle}"));
    }
    let missing = format!(
        "contactor.duty_rating.contact_time_constant is missing: {} settled is too much for ever and {} rms is not",
        quantity(settled, "A"),
        quantity(rms, "A")
    );
    Check::missing(requirement, Some(settled), "A", missing, cycle)
}

/// Pull-in is checked by the surge study with a coil as hot as `limits.hot_coil_c`.
fn hot_coil(study: &DutyStudy) -> Option<Check> {
    let hot = study.drive.limits.hot_coil_c?;
    let coils = study.parts.iter().filter(|part| part.part.starts_with("coil "));
    let hottest = coils.max_by(|a, b| a.highest.total_cmp(&b.highest))?;
    let requirement = "No coil gets hotter than pull-in is checked at".to_string();
    let basis = "limits.hot_coil_c, by the user".to_string();
    let part = PartDuty { basis, ..hottest.clone() };
    Some(rise(requirement, &part, hot.si(), format!("{}, {}", hottest.part, when(study, hottest))))
}
