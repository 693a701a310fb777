//! Temperatures through the steady cycle, as a picture.

use super::study::{DutyStudy, PartDuty};
use crate::report::quantity;
use crate::report::svg::{Anchor, BLUE, ORANGE, RED, Scale, Svg};

/// Colour and dash of each line in turn.
const LOOKS: [(&str, &str); 5] =
    [("#000", ""), (ORANGE, "9 4"), (BLUE, "10 3 2 3"), (RED, "2 3"), ("#009E73", "14 4 2 4 2 4")];
/// Parts that stay this close to each other through the cycle are one line, K.
const ALIKE_K: f64 = 0.05;

/// None where no part's temperature goes through a cycle.
pub(super) fn picture(study: &DutyStudy) -> Option<String> {
    let groups = groups(study);
    let whole = groups.first()?.1.curve.last()?.0;
    if !(whole > 0.0) {
        return None;
    }
    let values = groups.iter().flat_map(|(_, part)| part.curve.iter().map(|point| point.1).chain(part.limit));
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    let x = Scale { from: 0.0, to: whole, place: (60.0, 600.0) };
    let y = Scale { from: low - 0.05 * (high - low), to: high + 0.08 * (high - low), place: (330.0, 15.0) };
    let mut svg = Svg::new(960.0, 380.0);
    for tick in x.linear_ticks() {
        svg.line(&[(x.linear(tick), y.place.0), (x.linear(tick), y.place.1)], 0.4, "stroke=\"#999\"");
        svg.text((x.linear(tick), 346.0), Anchor::Middle, 11.0, "", &format!("{tick}"));
    }
    for tick in y.linear_ticks() {
        svg.line(&[(x.place.0, y.linear(tick)), (x.place.1, y.linear(tick))], 0.4, "stroke=\"#999\"");
        svg.text((54.0, y.linear(tick) + 4.0), Anchor::End, 11.0, "", &format!("{tick}"));
    }
    svg.rect((60.0, 15.0), (540.0, 315.0), "fill=\"none\" stroke=\"#000\"");
    svg.text((330.0, 368.0), Anchor::Middle, 13.0, "", "time in the cycle, s");
    svg.text((16.0, 172.0), Anchor::Middle, 13.0, "transform=\"rotate(-90 16 172)\"", "temperature, °C");
    for (k, (names, part)) in groups.iter().enumerate() {
        let (colour, dash) = LOOKS[k % LOOKS.len()];
        let style = format!("stroke=\"{colour}\" stroke-dasharray=\"{dash}\"");
        let points: Vec<(f64, f64)> = part.curve.iter().map(|(t, v)| (x.linear(*t), y.linear(*v))).collect();
        svg.line(&points, 2.0, &style);
        let at = 30.0 + 34.0 * k as f64;
        svg.line(&[(612.0, at), (644.0, at)], 2.0, &style);
        svg.text((650.0, at + 4.0), Anchor::Start, 11.5, "", names);
        let Some(limit) = part.limit else { continue };
        svg.line(&[(x.place.0, y.linear(limit)), (x.place.1, y.linear(limit))], 0.9, &style);
        svg.text((650.0, at + 18.0), Anchor::Start, 10.0, "", &format!("thin: its limit, {}", quantity(limit, "degC")));
    }
    Some(svg.finish(&format!("{}: temperatures through the steady cycle", study.drive.name), ""))
}

/// Parts with a temperature, those alike together.
fn groups(study: &DutyStudy) -> Vec<(String, &PartDuty)> {
    let mut groups: Vec<(String, &PartDuty)> = Vec::new();
    for part in study.parts.iter().filter(|part| part.unit == "degC" && part.curve.len() > 1) {
        let alike = |other: &PartDuty| {
            let pairs = part.curve.iter().zip(&other.curve);
            part.limit == other.limit && pairs.into_iter().all(|(a, b)| (a.1 - b.1).abs() < ALIKE_K)
        };
        match groups.iter_mut().find(|(_, other)| alike(other)) {
            Some((names, _)) => *names = format!("{names}, {}", part.part),
            None => groups.push((part.part.clone(), part)),
        }
    }
    groups
}
