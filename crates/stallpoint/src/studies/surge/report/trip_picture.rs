//! The surge laid over the trip band, as a picture.

use super::super::{Curve, SurgeStudy};
use crate::report::quantity;
use crate::report::svg::{Anchor, BLUE, ORANGE, RED, Scale, Svg};

/// Times shown, s.
const FROM: f64 = 0.01;
const TO: f64 = 3600.0;

pub(super) fn picture(study: &SurgeStudy) -> String {
    let picture = &study.picture;
    let rated = picture.rated;
    // The end of the surge must be in sight, however little a running drive draws.
    let least = picture.rms.current.last().map_or(rated, |end| end.max(1e-3 * rated)).min(0.5 * rated);
    let x = Scale { from: 0.8 * least, to: 20.0 * rated, place: (70.0, 730.0) };
    let y = Scale { from: FROM, to: TO, place: (440.0, 20.0) };
    let mut svg = Svg::new(960.0, 490.0);
    for tick in x.log_ticks() {
        let at = x.log(tick);
        svg.line(&[(at, y.place.0), (at, y.place.1)], 0.4, "stroke=\"#999\"");
        svg.text((at, 456.0), Anchor::Middle, 11.0, "", &plain(tick));
    }
    for tick in y.log_ticks() {
        let at = y.log(tick);
        svg.line(&[(x.place.0, at), (x.place.1, at)], 0.4, "stroke=\"#999\"");
        svg.text((64.0, at + 4.0), Anchor::End, 11.0, "", &plain(tick));
    }
    svg.rect((70.0, 20.0), (660.0, 420.0), "fill=\"none\" stroke=\"#000\"");
    svg.text((400.0, 478.0), Anchor::Middle, 13.0, "", "current, A");
    svg.text((18.0, 230.0), Anchor::Middle, 13.0, "transform=\"rotate(-90 18 230)\"", "time, s");

    let place = |curve: &Curve| -> Vec<(f64, f64)> {
        let rows = curve.current.iter().zip(&curve.time);
        let seen = rows.filter(|(i, t)| **t >= FROM && **t <= TO && **i <= x.to && **i > 0.0);
        seen.map(|(i, t)| (x.log(*i), y.log(*t))).collect()
    };
    let (fast, slow) = (place(&picture.fastest), place(&picture.slowest));
    let outline: Vec<(f64, f64)> = fast.iter().copied().chain(slow.iter().rev().copied()).collect();
    svg.area(&outline, "fill=\"url(#band)\" stroke=\"none\"");
    svg.line(&fast, 1.5, &format!("stroke=\"{ORANGE}\""));
    svg.line(&slow, 1.5, &format!("stroke=\"{ORANGE}\" stroke-dasharray=\"7 4\""));
    let cable = place(&picture.cable);
    svg.line(&cable, 1.8, &format!("stroke=\"{RED}\" stroke-dasharray=\"10 3 2 3\""));
    if let Some(ampacity) = picture.ampacity {
        let at = x.log(ampacity);
        svg.line(&[(at, y.log(5.0)), (at, y.log(TO))], 1.8, &format!("stroke=\"{RED}\" stroke-dasharray=\"2 3\""));
    }
    let rms = place(&picture.rms);
    svg.line(&rms, 3.0, &format!("stroke=\"{BLUE}\""));
    if let Some(end) = rms.last() {
        svg.circle(*end, 5.0, &format!("fill=\"{BLUE}\" stroke=\"#000\""));
    }
    key(&mut svg, study);
    let defs = format!(
        "<defs><pattern id=\"band\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\"><rect width=\"8\" height=\"8\" \
         fill=\"{ORANGE}\" fill-opacity=\"0.2\"/><path d=\"M0 8L8 0\" stroke=\"{ORANGE}\" stroke-width=\"0.8\"/></pattern></defs>\n"
    );
    svg.finish(&format!("{}: start-up surge over trip band", study.drive.name), &defs)
}

fn key(svg: &mut Svg, study: &SurgeStudy) {
    let picture = &study.picture;
    let mut entries = vec![
        (format!("stroke=\"{BLUE}\""), 3.0, "rms since energising".to_string()),
        (format!("stroke=\"{ORANGE}\""), 1.5, "trip band: fastest device".into()),
        (format!("stroke=\"{ORANGE}\" stroke-dasharray=\"7 4\""), 1.5, "trip band: slowest device".into()),
    ];
    if !picture.cable.current.is_empty() {
        let style = format!("stroke=\"{RED}\" stroke-dasharray=\"10 3 2 3\"");
        entries.push((style, 1.8, "supply cable's limit, k²S²".into()));
    }
    if let Some(ampacity) = picture.ampacity {
        let style = format!("stroke=\"{RED}\" stroke-dasharray=\"2 3\"");
        entries.push((style, 1.8, format!("its ampacity, {}", quantity(ampacity, "A"))));
    }
    for (k, (style, width, words)) in entries.iter().enumerate() {
        let at = 40.0 + 24.0 * k as f64;
        svg.line(&[(745.0, at), (780.0, at)], *width, style);
        svg.text((788.0, at + 4.0), Anchor::Start, 12.0, "", words);
    }
    let end = 40.0 + 24.0 * entries.len() as f64;
    svg.circle((762.0, end), 5.0, &format!("fill=\"{BLUE}\" stroke=\"#000\""));
    let words = format!("end of the {} hold", quantity(study.options.hold, "s"));
    svg.text((788.0, end + 4.0), Anchor::Start, 12.0, "", &words);
}

/// A tick's number as it is said.
fn plain(value: f64) -> String {
    format!("{}", (value * 1e6).round() / 1e6)
}
