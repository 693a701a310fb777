//! Names, sizes and paths.

use super::super::part::{Domain, Part};
use super::Findings;

pub(super) fn check(part: &dyn Part, findings: &mut Findings) {
    if part.kind().trim().is_empty() {
        findings.add("kind", || "has no word".into());
    }
    let unknowns = part.unknowns();
    differ("terminals", part.terminals().iter().map(|t| t.name), findings);
    // States and probes are asked for by name in one list.
    differ("states", unknowns.iter().map(|u| u.name).chain(part.probes().iter().map(|p| p.name)), findings);
    differ("guards", part.guards().iter().copied(), findings);
    for unknown in &unknowns {
        if !(unknown.nominal > 0.0 && unknown.nominal.is_finite()) {
            findings.add("states", || format!("`{}` has the nominal size {}", unknown.name, unknown.nominal));
        }
        if !unknown.initial.is_finite() {
            findings.add("states", || format!("`{}` starts at {}", unknown.name, unknown.initial));
        }
        if unknown.unit.is_empty() {
            findings.add("states", || format!("`{}` has no unit (\"1\" for a plain number)", unknown.name));
        }
    }
    for probe in part.probes().iter().filter(|probe| probe.unit.is_empty()) {
        findings.add("states", || format!("`{}` has no unit (\"1\" for a plain number)", probe.name));
    }
    for path in part.paths() {
        let electrical = |k: usize| part.terminals().get(k).is_some_and(|t| t.domain == Domain::Electrical);
        if !electrical(path.from) || !electrical(path.to) {
            findings.add("paths", || format!("{} to {} are not electrical terminals", path.from, path.to));
        }
    }
    let (inertia, friction) = (part.inertia(), part.dry_friction());
    for (what, value) in [("inertia", inertia), ("friction", friction.running), ("breakaway", friction.breakaway)] {
        if !(value >= 0.0 && value.is_finite()) {
            findings.add("shaft", || format!("{what} is {value}"));
        }
    }
}

fn differ(what: &str, names: impl Iterator<Item = &'static str> + Clone, findings: &mut Findings) {
    for (k, name) in names.clone().enumerate() {
        if name.trim().is_empty() {
            findings.add(what, || format!("number {k} has no name"));
        }
        if names.clone().take(k).any(|other| other == name) {
            findings.add(what, || format!("`{name}` is there twice"));
        }
    }
}
