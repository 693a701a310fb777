//! Parts written in Python.

use std::sync::Arc;

use pyo3::prelude::*;
use stallpoint::circuit::{At, Pace, Part, Power, Stamp, Terminal, Unknown, electrical, shaft};

use crate::callback;
use crate::errors::bad_argument;
use crate::interned::interned;

/// A part whose equations a Python object gives; see `stallpoint.parts.OwnPart`.
#[derive(Debug, Clone)]
pub struct OwnPart(Arc<Shape>);

#[derive(Debug)]
struct Shape {
    object: Py<PyAny>,
    kind: &'static str,
    terminals: Vec<Terminal>,
    unknowns: Vec<Unknown>,
    /// Own unknowns whose equation has a content.
    differential: Vec<bool>,
    by_differences: bool,
}

/// Content and flow of every row.
type Rows = (Vec<f64>, Vec<f64>);

/// Step of a central difference, relative: the third root of the spacing of doubles.
const STEP: f64 = 6e-6;

impl OwnPart {
    /// Reads the shape of a part and tries its equations once.
    pub fn new(object: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = object.py();
        let kind: String = object.getattr("kind")?.extract()?;
        let electricals: Vec<String> = object.getattr("terminals")?.extract()?;
        let shafts: Vec<String> = object.getattr("shafts")?.extract()?;
        let electricals = electricals.iter().map(|name| electrical(interned(name)));
        let terminals: Vec<Terminal> = electricals.chain(shafts.iter().map(|name| shaft(interned(name)))).collect();
        let mut unknowns = Vec::new();
        let mut differential = Vec::new();
        for own in object.getattr("unknowns")?.try_iter()? {
            let own = own?;
            let text = |name: &str| own.getattr(name)?.extract::<String>();
            let number = |name: &str| own.getattr(name)?.extract::<f64>();
            let pace = match text("pace")?.as_str() {
                "fast" => Pace::Fast,
                "slow" => Pace::Slow,
                "accumulator" => Pace::Accumulator,
                other => {
                    let value = format!("\"{other}\"");
                    return Err(bad_argument(py, "pace", &value, "\"fast\", \"slow\" or \"accumulator\""));
                }
            };
            unknowns.push(Unknown {
                name: interned(&text("name")?),
                unit: interned(&text("unit")?),
                nominal: number("nominal")?,
                initial: number("initial")?,
                pace,
            });
            differential.push(own.getattr("differential")?.extract()?);
        }
        let by_differences: bool = object.getattr("by_differences")?.extract()?;
        let object = object.clone().unbind();
        let shape = Shape { object, kind: interned(&kind), terminals, unknowns, differential, by_differences };
        let initial: Vec<f64> = std::iter::repeat_n(0.0, shape.terminals.len())
            .chain(shape.unknowns.iter().map(|own| own.initial))
            .collect();
        shape.rows(py, 0.0, &initial)?;
        shape.derivatives(py, 0.0, &initial)?;
        Ok(Self(Arc::new(shape)))
    }
}

impl Shape {
    fn size(&self) -> usize {
        self.terminals.len() + self.unknowns.len()
    }

    /// Whether row `row` has a content.
    fn has_content(&self, row: usize) -> bool {
        row.checked_sub(self.terminals.len()).is_some_and(|own| self.differential[own])
    }

    fn rows(&self, py: Python, t: f64, x: &[f64]) -> PyResult<Rows> {
        let (q, f): Rows = self.object.bind(py).call_method1("evaluate", (t, x))?.extract()?;
        let n = self.size();
        if q.len() != n || f.len() != n {
            let given = format!("{} contents and {} flows", q.len(), f.len());
            let allowed = format!("{n} of each: one a terminal, then one an own unknown");
            return Err(bad_argument(py, "evaluate", &given, &allowed));
        }
        if let Some(row) = (0..n).find(|&row| q[row] != 0.0 && !self.has_content(row)) {
            let allowed = "in the equation of an own unknown that is differential; elsewhere it must be 0";
            return Err(bad_argument(py, "evaluate", &format!("a content in row {row}"), allowed));
        }
        Ok((q, f))
    }

    /// Derivatives of content and flow, row by row.
    fn derivatives(&self, py: Python, t: f64, x: &[f64]) -> PyResult<Rows> {
        let n = self.size();
        if !self.by_differences {
            let made = self.object.bind(py).call_method1("derivatives", (t, x))?;
            let (dq, df): (Vec<Vec<f64>>, Vec<Vec<f64>>) = made.extract()?;
            let square = |rows: &[Vec<f64>]| rows.len() == n && rows.iter().all(|row| row.len() == n);
            if !square(&dq) || !square(&df) {
                let allowed = format!("two tables of {n} rows of {n} numbers");
                return Err(bad_argument(py, "derivatives", "of another shape", &allowed));
            }
            return Ok((dq.concat(), df.concat()));
        }
        let (mut dq, mut df) = (vec![0.0; n * n], vec![0.0; n * n]);
        let mut moved = x.to_vec();
        for column in 0..n {
            let nominal = column.checked_sub(self.terminals.len()).map_or(1.0, |own| self.unknowns[own].nominal);
            let step = STEP * x[column].abs().max(nominal);
            moved[column] = x[column] + step;
            let up = self.rows(py, t, &moved)?;
            moved[column] = x[column] - step;
            let down = self.rows(py, t, &moved)?;
            moved[column] = x[column];
            for row in 0..n {
                dq[row * n + column] = (up.0[row] - down.0[row]) / (2.0 * step);
                df[row * n + column] = (up.1[row] - down.1[row]) / (2.0 * step);
            }
        }
        Ok((dq, df))
    }

    fn local(&self, at: &At) -> Vec<f64> {
        (0..self.size()).map(|i| at.x(i)).collect()
    }

    /// A method of the part that gives plain numbers; NaN when it raises.
    fn numbers<const N: usize>(&self, method: &str, at: &At) -> [f64; N] {
        let x = self.local(at);
        callback::attached(|py| self.object.bind(py).call_method1(method, (at.t, x))?.extract())
            .unwrap_or([f64::NAN; N])
    }
}

impl Part for OwnPart {
    fn kind(&self) -> &'static str {
        self.0.kind
    }

    fn terminals(&self) -> &[Terminal] {
        &self.0.terminals
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.0.unknowns.clone()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let shape = &*self.0;
        let (n, x) = (shape.size(), shape.local(at));
        // NaN tells the solver to stop; what was raised is raised again after the call.
        let none = || (vec![f64::NAN; n], vec![f64::NAN; n]);
        let (q, f) = callback::attached(|py| shape.rows(py, at.t, &x)).unwrap_or_else(none);
        for row in 0..n {
            out.f(row, f[row]);
            if shape.has_content(row) {
                out.q(row, q[row]);
            }
        }
        if !out.wants_derivatives() {
            return;
        }
        let none = || (vec![0.0; n * n], vec![0.0; n * n]);
        let (dq, df) = callback::attached(|py| shape.derivatives(py, at.t, &x)).unwrap_or_else(none);
        for row in 0..n {
            for column in 0..n {
                out.df(row, column, df[row * n + column]);
                if shape.has_content(row) {
                    out.dq(row, column, dq[row * n + column]);
                }
            }
        }
    }

    fn power(&self, at: &At) -> Power {
        let [delivered, dissipated] = self.0.numbers("power", at);
        Power { delivered, dissipated }
    }

    fn stored(&self, at: &At) -> f64 {
        let x = self.0.local(at);
        callback::attached(|py| self.0.object.bind(py).call_method1("stored", (at.t, x))?.extract()).unwrap_or(f64::NAN)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
