//! Pictures as SVG text, for pages that need nothing else. Told apart by dash, hatch and mark as well as by colour.

use std::fmt::Write;

/// Colours that colour-blind eyes tell apart (M. Okabe and K. Ito, Color Universal Design, 2008).
pub(crate) const ORANGE: &str = "#E69F00";
pub(crate) const BLUE: &str = "#0072B2";
pub(crate) const RED: &str = "#D55E00";

/// Where a text stands to its point.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A picture being drawn.
pub(crate) struct Svg {
    body: String,
    width: f64,
    height: f64,
}

impl Svg {
    pub(crate) fn new(width: f64, height: f64) -> Self {
        Self { body: String::new(), width, height }
    }

    fn add(&mut self, element: std::fmt::Arguments) {
        // Writing to a text cannot fail.
        let _ = self.body.write_fmt(element);
        self.body.push('\n');
    }

    /// A line through points; `style` is more of its attributes.
    pub(crate) fn line(&mut self, points: &[(f64, f64)], width: f64, style: &str) {
        let at: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        let stroke = if style.contains("stroke=") { "" } else { " stroke=\"#000\"" };
        self.add(format_args!(
            "<polyline points=\"{}\" fill=\"none\" stroke-width=\"{width}\"{stroke} {style}/>",
            at.join(" ")
        ));
    }

    /// A filled outline through points.
    pub(crate) fn area(&mut self, points: &[(f64, f64)], style: &str) {
        let at: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        self.add(format_args!("<polygon points=\"{}\" {style}/>", at.join(" ")));
    }

    pub(crate) fn rect(&mut self, (x, y): (f64, f64), (width, height): (f64, f64), style: &str) {
        self.add(format_args!("<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" {style}/>"));
    }

    pub(crate) fn circle(&mut self, (x, y): (f64, f64), radius: f64, style: &str) {
        self.add(format_args!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius}\" {style}/>"));
    }

    pub(crate) fn text(&mut self, (x, y): (f64, f64), anchor: Anchor, size: f64, style: &str, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let text = super::html::escape(text);
        self.add(format_args!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" font-size=\"{size}\" {style}>{text}</text>"
        ));
    }

    /// The picture, named for who cannot see it. `defs` are its patterns.
    pub(crate) fn finish(self, title: &str, defs: &str) -> String {
        let title = super::html::escape(title);
        format!(
            "<svg viewBox=\"0 0 {} {}\" role=\"img\" font-family=\"system-ui,sans-serif\">\n\
             <title>{title}</title>\n{defs}{}</svg>\n",
            self.width, self.height, self.body
        )
    }
}

/// Axes whose ends are given, linear or logarithmic, on a part of a picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Places of the two ends in the picture.
    pub(crate) place: (f64, f64),
}

impl Scale {
    /// Place of a value on a logarithmic axis, kept within it.
    pub(crate) fn log(&self, value: f64) -> f64 {
        let share = (value / self.from).ln() / (self.to / self.from).ln();
        self.place.0 + share.clamp(0.0, 1.0) * (self.place.1 - self.place.0)
    }

    /// Place of a value on a linear axis.
    pub(crate) fn linear(&self, value: f64) -> f64 {
        self.place.0 + (value - self.from) / (self.to - self.from) * (self.place.1 - self.place.0)
    }

    /// Some five to ten round values within a linear axis.
    pub(crate) fn linear_ticks(&self) -> Vec<f64> {
        let span = self.to - self.from;
        let power = 10f64.powf((span / 5.0).log10().floor());
        let digit = [5.0, 2.0, 1.0].into_iter().find(|digit| digit * power <= span / 5.0).unwrap_or(1.0);
        let step = digit * power;
        let first = (self.from / step).ceil() as i64;
        (first..=(self.to / step).floor() as i64).map(|k| (k as f64 * step * 1e9).round() / 1e9).collect()
    }

    /// Values with one leading digit of 1, 2, 5 within the axis.
    pub(crate) fn log_ticks(&self) -> Vec<f64> {
        let mut ticks = Vec::new();
        for power in self.from.log10().floor() as i32..=self.to.log10().ceil() as i32 {
            ticks.extend([1.0, 2.0, 5.0].map(|digit| digit * 10f64.powi(power)));
        }
        ticks.retain(|tick| *tick >= self.from * (1.0 - 1e-9) && *tick <= self.to * (1.0 + 1e-9));
        ticks
    }
}
