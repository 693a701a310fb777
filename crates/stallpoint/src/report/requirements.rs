//! Requirements as a report: how many of each verdict, what to attend to, what is missing, and the table.

use super::{Align, Check, Document, Table, Verdict, both_ways, maybe, percent};

pub(crate) fn add_requirements(checks: &[Check], report: &mut Document) {
    report.heading(2, "Verdict");
    report.paragraph(format!("{} requirements: {}.", checks.len(), counts(checks)));
    let of = |verdict: Verdict| checks.iter().filter(move |check| check.verdict == verdict);
    let told = [Verdict::Fail, Verdict::May].into_iter().flat_map(of);
    let told = both_ways(told.map(|c| format!("{}: {} [{}]", c.verdict, c.requirement, c.when)));
    if !told.is_empty() {
        report.list(told);
    }

    report.heading(2, "Requirements");
    report.paragraph(
        "Margin is the distance to the limit relative to it; below 10 % a pass is marginal. \"may\" means that it depends \
         on the breaker or fuse within its trip band. The number in the last column leads to where the limit comes from.",
    );
    let mut bases: Vec<&str> = Vec::new();
    let mut table = Table::new(2, ["verdict", "requirement", "when", "found", "limit", "margin", "basis"]);
    table.columns[2].1 = Align::Left;
    let judged = Verdict::ALL.into_iter().filter(|verdict| *verdict != Verdict::NotChecked);
    for check in judged.flat_map(of) {
        let basis = bases.iter().position(|known| *known == check.basis).unwrap_or_else(|| {
            bases.push(&check.basis);
            bases.len() - 1
        });
        table.row([
            check.verdict.to_string(),
            check.requirement.clone(),
            check.when.clone(),
            found(check),
            maybe(check.limit, check.unit),
            check.margin.map_or_else(|| "–".into(), percent_whole),
            (basis + 1).to_string(),
        ]);
    }
    report.table(table);
    report.numbered(bases);
    add_not_checked(of(Verdict::NotChecked), report);
}

/// What is not checked, by what is missing: one line for all that the same datum would answer.
fn add_not_checked<'c>(checks: impl Iterator<Item = &'c Check>, report: &mut Document) {
    let mut missing: Vec<(&str, Vec<String>)> = Vec::new();
    for check in checks {
        let found = check.value.map_or_else(String::new, |_| format!(" (found: {})", found(check)));
        let words = format!("{}{found}", check.requirement);
        match missing.iter_mut().find(|(basis, _)| *basis == check.basis) {
            Some((_, requirements)) if requirements.contains(&words) => {}
            Some((_, requirements)) => requirements.push(words),
            None => missing.push((&check.basis, vec![words])),
        }
    }
    if missing.is_empty() {
        return;
    }
    report.heading(3, "Not checked");
    report.paragraph("These never count as a pass. What is missing, and what it would answer:");
    report.list(missing.iter().map(|(basis, requirements)| format!("{basis}: {}", requirements.join("; "))));
}

/// A breaker that does not open has no time to show, but that is what was found.
fn found(check: &Check) -> String {
    match check.value {
        None if check.unit == "s" && check.limit.is_some() => "never".into(),
        value => maybe(value, check.unit),
    }
}

/// Per cent without decimals where they say nothing.
fn percent_whole(fraction: f64) -> String {
    if fraction.abs() >= 0.1 { format!("{:.0} %", 100.0 * fraction) } else { percent(fraction) }
}

/// How many requirements got which verdict, worst first, in one line.
pub(crate) fn counts(checks: &[Check]) -> String {
    let count = |verdict| checks.iter().filter(|check| check.verdict == verdict).count();
    let named = Verdict::ALL.map(|verdict| (verdict, count(verdict)));
    let words: Vec<String> =
        named.iter().filter(|(_, n)| *n > 0).map(|(verdict, n)| format!("{n} {verdict}")).collect();
    words.join(", ")
}
