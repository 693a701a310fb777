//! Work-precision picture, as SVG: error across, time against ours up, both logarithmic.

use std::fmt::Write;

use crate::report::Row;

const WIDTH: f64 = 900.0;
const HEIGHT: f64 = 560.0;
const LEFT: f64 = 70.0;
const TOP: f64 = 56.0;
const PLOT: (f64, f64) = (560.0, 430.0);
/// Colours apart for most eyes (after Okabe and Ito, from memory); marks differ too.
const COLOURS: [&str; 11] = [
    "#000000", "#d55e00", "#e69f00", "#0072b2", "#56b4e9", "#009e73", "#cc79a7", "#7a5195", "#888888", "#8c564b",
    "#b5bd00",
];

/// Draws all rows; `unit` is the time that counts as one.
pub fn draw(rows: &[Row], unit: f64, caption: &str) -> String {
    let decades = |values: Vec<f64>| {
        let low = values.iter().copied().fold(f64::INFINITY, f64::min).log10().floor();
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max).log10().ceil();
        (low, high.max(low + 1.0))
    };
    let across = decades(rows.iter().map(|row| row.error).collect());
    let up = decades(rows.iter().map(|row| row.seconds / unit).collect());
    let x = |error: f64| LEFT + PLOT.0 * (error.log10() - across.0) / (across.1 - across.0);
    let y = |ratio: f64| TOP + PLOT.1 * (1.0 - (ratio.log10() - up.0) / (up.1 - up.0));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}\" height=\"{HEIGHT}\" font-family=\"sans-serif\" \
         font-size=\"13\">\n<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n\
         <text x=\"{LEFT}\" y=\"24\" font-size=\"16\">P1c: time against measured error</text>\n\
         <text x=\"{LEFT}\" y=\"43\" fill=\"#555\">{caption}</text>\n"
    );
    let mut line = |x1: f64, y1: f64, x2: f64, y2: f64, colour: &str| {
        let _ = writeln!(svg, "<path d=\"M{x1:.1} {y1:.1}L{x2:.1} {y2:.1}\" stroke=\"{colour}\"/>");
    };
    for decade in across.0 as i32..=across.1 as i32 {
        let at = x(10f64.powi(decade));
        line(at, TOP, at, TOP + PLOT.1, "#ddd");
    }
    for decade in up.0 as i32..=up.1 as i32 {
        for part in 1..10 {
            let ratio = f64::from(part) * 10f64.powi(decade);
            if ratio <= 10f64.powf(up.1) * 1.0001 {
                line(LEFT, y(ratio), LEFT + PLOT.0, y(ratio), if part == 1 { "#bbb" } else { "#eee" });
            }
        }
    }
    let mut text = |x: f64, y: f64, anchor: &str, words: &str| {
        let _ = writeln!(svg, "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\">{words}</text>");
    };
    for decade in across.0 as i32..=across.1 as i32 {
        text(x(10f64.powi(decade)), TOP + PLOT.1 + 18.0, "middle", &format!("1e{decade}"));
    }
    for decade in up.0 as i32..=up.1 as i32 {
        text(LEFT - 8.0, y(10f64.powi(decade)) + 4.0, "end", &format!("{}", 10f64.powi(decade)));
    }
    text(LEFT + PLOT.0 / 2.0, TOP + PLOT.1 + 42.0, "middle", "largest error, scaled");
    text(LEFT + 6.0, TOP + 16.0, "start", "time / ours at 1e-4");
    let mut names: Vec<&str> = Vec::new();
    for row in rows {
        if !names.contains(&row.name.as_str()) {
            names.push(&row.name);
        }
    }
    for (k, name) in names.iter().enumerate() {
        let colour = COLOURS[k % COLOURS.len()];
        let width = if k == 0 { 3 } else { 1 };
        let mut own: Vec<_> = rows.iter().filter(|row| row.name == *name).collect();
        own.sort_by(|a, b| a.error.total_cmp(&b.error));
        let places: Vec<_> = own.iter().map(|row| (x(row.error), y(row.seconds / unit))).collect();
        let path: Vec<_> = places.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        let _ = writeln!(
            svg,
            "<polyline points=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\"/>",
            path.join(" ")
        );
        let legend = (LEFT + PLOT.0 + 24.0, TOP + 14.0 + 24.0 * k as f64);
        for (x, y) in places.iter().chain([&legend]) {
            svg.push_str(&mark(k, *x, *y, colour));
        }
        let _ = writeln!(svg, "<text x=\"{}\" y=\"{}\">{name}</text>", legend.0 + 14.0, legend.1 + 4.0);
    }
    svg.push_str("</svg>\n");
    svg
}

/// One of four marks.
fn mark(kind: usize, x: f64, y: f64, colour: &str) -> String {
    match kind % 4 {
        0 => format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"5\" fill=\"{colour}\"/>\n"),
        1 => format!("<rect x=\"{:.1}\" y=\"{:.1}\" width=\"9\" height=\"9\" fill=\"{colour}\"/>\n", x - 4.5, y - 4.5),
        2 => format!("<path d=\"M{x:.1} {:.1}l5.5 10h-11z\" fill=\"{colour}\"/>\n", y - 6.0),
        _ => format!("<path d=\"M{x:.1} {:.1}l6 6l-6 6l-6 -6z\" fill=\"{colour}\"/>\n", y - 6.0),
    }
}
