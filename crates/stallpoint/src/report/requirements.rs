//! Verdicts: how many of each, what to attend to, and every requirement.

use super::{Align, Check, Document, Table, Verdict, maybe, percent};

pub(crate) fn add_requirements(checks: &[Check], report: &mut Document) {
    report.heading(2, "Verdict");
    report.paragraph(format!("{} requirements: {}.", checks.len(), counts(checks)));
    let of = |verdict: Verdict| checks.iter().filter(move |check| check.verdict == verdict);
    let told = [Verdict::Fail, Verdict::May].into_iter().flat_map(of);
    let told: Vec<String> = told.map(|c| format!("{}: {} [{}]", c.verdict, c.requirement, c.when)).collect();
    if !told.is_empty() {
        report.list(told);
    }

    report.heading(2, "Requirements");
    report.paragraph(
        "Margin is the distance to the limit relative to it; below 10 % a pass is marginal. \"may\" means that it depends \
         on the breaker within its trip band. \"not checked\" never counts as a pass. The number in the last column leads \
         to where the limit comes from, or to what is missing.",
    );
    let mut bases: Vec<&str> = Vec::new();
    let mut table = Table::new(2, ["verdict", "requirement", "when", "found", "limit", "margin", "basis"]);
    table.columns[2].1 = Align::Left;
    for check in Verdict::ALL.into_iter().flat_map(of) {
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

pub(crate) fn counts(checks: &[Check]) -> String {
    let count = |verdict| checks.iter().filter(|check| check.verdict == verdict).count();
    let named = Verdict::ALL.map(|verdict| (verdict, count(verdict)));
    let words: Vec<String> =
        named.iter().filter(|(_, n)| *n > 0).map(|(verdict, n)| format!("{n} {verdict}")).collect();
    words.join(", ")
}
