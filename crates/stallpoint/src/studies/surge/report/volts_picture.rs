//! Where the volts go, as bars.

use super::super::SurgeStudy;
use crate::report::svg::{Anchor, BLUE, ORANGE, Svg};

/// An element that never loses more is left out, as a share of the open-circuit voltage.
const LEAST: f64 = 0.003;
/// A bar that is shorter is none, V.
const NO_BAR: f64 = 0.005;
/// Height of a bar, and between two elements.
const BAR: f64 = 11.0;
const GAP: f64 = 9.0;

pub(super) fn picture(study: &SurgeStudy) -> String {
    let states = &study.volts;
    let Some(first) = states.first() else { return String::new() };
    let lost = |state: usize, row: usize| states[state].drops.get(row).map_or(0.0, |drop| drop.volts);
    let rows: Vec<usize> = (0..first.drops.len())
        .filter(|&row| (0..states.len()).any(|k| lost(k, row).abs() > LEAST * first.open_circuit))
        .collect();
    let most = rows.iter().flat_map(|&row| (0..states.len()).map(move |k| lost(k, row))).fold(1e-3, f64::max);
    let (left, right) = (200.0, 880.0);
    let x = |volts: f64| left + (right - left) * (volts / most).clamp(0.0, 1.0);
    let height = BAR * states.len() as f64 + GAP;
    let top = 24.0 + 20.0 * states.len() as f64;
    let mut svg = Svg::new(960.0, top + height * rows.len() as f64 + 16.0);

    let looks = ["fill=\"#fff\"".to_string(), format!("fill=\"{ORANGE}\""), "fill=\"url(#hatch)\"".into()];
    for (k, state) in states.iter().enumerate() {
        let y = 12.0 + 20.0 * k as f64;
        svg.rect((left, y), (26.0, 12.0), &format!("{} stroke=\"#000\" stroke-width=\"0.8\"", looks[k % looks.len()]));
        let words = format!("{} (battery {:.2} V, motor {:.0} A)", state.when, state.battery, state.current);
        svg.text((left + 34.0, y + 10.0), Anchor::Start, 12.0, "", &words);
    }
    for (place, &row) in rows.iter().enumerate() {
        let y = top + height * place as f64;
        let name = first.drops[row].element.replace('_', " ");
        svg.text((left - 8.0, y + 0.5 * height), Anchor::End, 12.0, "", &name);
        for k in 0..states.len() {
            let (volts, y) = (lost(k, row), y + BAR * k as f64);
            if volts.abs() < NO_BAR {
                continue;
            }
            let style = format!("{} stroke=\"#000\" stroke-width=\"0.8\"", looks[k % looks.len()]);
            svg.rect((left, y), (x(volts) - left, BAR), &style);
            svg.text((x(volts) + 4.0, y + BAR - 1.5), Anchor::Start, 9.5, "", &format!("{volts:.2} V"));
        }
    }
    svg.line(&[(left, top - 4.0), (left, top + height * rows.len() as f64)], 1.0, "");
    let defs = format!(
        "<defs><pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><rect width=\"6\" height=\"6\" \
         fill=\"{BLUE}\" fill-opacity=\"0.45\"/><path d=\"M0 0L6 6\" stroke=\"#000\" stroke-width=\"0.8\"/></pattern></defs>\n"
    );
    svg.finish(&format!("{}: where the volts go", study.drive.name), &defs)
}
