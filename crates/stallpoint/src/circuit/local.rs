//! A part's view of the circuit: local values in, local equations out.

use stallpoint_solve::Evaluation;

use super::memory::Memory;

/// Marks the reference node, which has no row and no column.
pub(crate) const REFERENCE: u32 = u32::MAX;
/// Marks a derivative entry that a part never announced.
pub(crate) const NO_SLOT: u32 = u32::MAX;

/// The local values a part sees: time, across values at its terminals, its own unknowns, its memory.
#[derive(Clone, Copy)]
pub struct At<'a> {
    /// Time, s.
    pub t: f64,
    /// The part's discrete state.
    pub memory: &'a Memory,
    pub(crate) x: &'a [f64],
    pub(crate) index: &'a [u32],
}

impl<'a> At<'a> {
    /// A view for trying a part alone: `x` holds the terminals' across values, then the own unknowns.
    pub fn alone(t: f64, x: &'a [f64], memory: &'a Memory, identity: &'a [u32]) -> Self {
        Self { t, memory, x, index: identity }
    }

    /// Local value `i`: a terminal's across value, or after those an own unknown.
    #[inline]
    pub fn x(&self, i: usize) -> f64 {
        match self.index[i] {
            REFERENCE => 0.0,
            global => self.x[global as usize],
        }
    }
}

/// Takes a part's equations.
pub struct Stamp<'a> {
    pub(crate) target: Target<'a>,
    pub(crate) jacobian: bool,
    pub(crate) size: usize,
}

pub(crate) enum Target<'a> {
    /// Into the circuit's equations.
    Global { out: &'a mut Evaluation, index: &'a [u32], slots: &'a [u32], missed: &'a mut bool },
    /// Notes which entries and which contents a part touches.
    Record(&'a mut Touched),
    /// Into the part's own dense equations.
    Local(&'a mut LocalEquations),
}

/// Entries touched by a part, local (row, column), and rows with a content.
#[derive(Default)]
pub(crate) struct Touched {
    pub(crate) entries: Vec<(usize, usize)>,
    pub(crate) contents: Vec<usize>,
}

/// The equations of one part alone, dense, row by row.
#[derive(Debug, Clone, PartialEq)]
pub struct LocalEquations {
    /// Contents.
    pub q: Vec<f64>,
    /// Flows.
    pub f: Vec<f64>,
    /// `dq/dx`, row by row.
    pub dq: Vec<f64>,
    /// `df/dx`, row by row.
    pub df: Vec<f64>,
}

impl LocalEquations {
    /// Zeros for a part with `size` terminals and own unknowns together.
    pub fn new(size: usize) -> Self {
        let square = size * size;
        Self { q: vec![0.0; size], f: vec![0.0; size], dq: vec![0.0; square], df: vec![0.0; square] }
    }

    /// A stamp that adds into these equations.
    pub fn stamp(&mut self) -> Stamp<'_> {
        let size = self.f.len();
        Stamp { target: Target::Local(self), jacobian: true, size }
    }
}

impl Stamp<'_> {
    /// Whether the derivatives are wanted this time; a part for which they are costly need not write them otherwise.
    #[inline]
    pub fn wants_derivatives(&self) -> bool {
        self.jacobian
    }

    /// Adds to the flow of a row: the current into the part at a terminal, or the flow of an own equation.
    #[inline]
    pub fn f(&mut self, row: usize, value: f64) {
        match &mut self.target {
            Target::Global { out, index, .. } => {
                if index[row] != REFERENCE {
                    out.f[index[row] as usize] += value;
                }
            }
            Target::Record(_) => {}
            Target::Local(local) => local.f[row] += value,
        }
    }

    /// Adds to the content (charge, flux, momentum) of a row.
    #[inline]
    pub fn q(&mut self, row: usize, value: f64) {
        match &mut self.target {
            Target::Global { out, index, .. } => {
                if index[row] != REFERENCE {
                    out.q[index[row] as usize] += value;
                }
            }
            Target::Record(touched) => touched.contents.push(row),
            Target::Local(local) => local.q[row] += value,
        }
    }

    /// Adds to the derivative of a row's flow by local value `column`.
    #[inline(always)]
    pub fn df(&mut self, row: usize, column: usize, value: f64) {
        // Most evaluations want no derivatives: that is decided here, before anything is called.
        if self.jacobian {
            self.derivative(Side::Flow, row, column, value);
        }
    }

    /// Adds to the derivative of a row's content by local value `column`.
    #[inline(always)]
    pub fn dq(&mut self, row: usize, column: usize, value: f64) {
        if self.jacobian {
            self.derivative(Side::Content, row, column, value);
        }
    }

    fn derivative(&mut self, of: Side, row: usize, column: usize, value: f64) {
        let at = row * self.size + column;
        match &mut self.target {
            Target::Global { out, slots, missed, .. } => {
                let values = if of == Side::Flow { &mut out.df } else { &mut out.dq };
                add(values, slots[at], value, missed);
            }
            Target::Record(touched) => touched.entries.push((row, column)),
            Target::Local(local) => {
                let values = if of == Side::Flow { &mut local.df } else { &mut local.dq };
                values[at] += value;
            }
        }
    }
}

/// Which side of a row is meant.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Flow,
    Content,
}

/// Slots of entries that involve the reference node are one past the end: they fall away.
#[inline]
fn add(values: &mut [f64], slot: u32, value: f64, missed: &mut bool) {
    match values.get_mut(slot as usize) {
        Some(place) => *place += value,
        None => *missed |= slot == NO_SLOT && value != 0.0,
    }
}
