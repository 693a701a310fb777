//! Settings of a run.

/// Which integration method makes the steps.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Method {
    /// Rodas5P, of order 5: eight stages, one matrix, no iteration. It goes over to TR-BDF2 where the system's content is not
    /// linear in the unknowns, and up to the next mode change where its steps do not succeed.
    #[default]
    Automatic,
    /// TR-BDF2: two stages, solved by Newton's method.
    SecondOrder,
}

/// Settings of [`integrate`](crate::integrate).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Integration method.
    pub method: Method,
    /// Relative tolerance of one step, between 1e-12 and 0.1.
    pub rtol: f64,
    /// Multiplies the scale of every unknown below which errors are absolute: `atol = rtol · scale · atol_factor`.
    pub atol_factor: f64,
    /// First step; `None` derives it from the initial slope.
    pub first_step: Option<f64>,
    /// Largest step.
    pub max_step: f64,
    /// Steps after which the run ends with [`Ending::StepLimit`](crate::Ending::StepLimit).
    pub max_steps: u64,
    /// Mode changes at one instant beyond which the run is an error.
    pub max_changes_at_instant: usize,
    /// Length of the first implicit Euler step that re-initialises after a mode change: far below every time constant that
    /// matters, far above rounding. Up to three more follow, each ten times as long, while something still settles.
    pub restart_step: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            method: Method::default(),
            rtol: 1e-4,
            atol_factor: 1.0,
            first_step: None,
            max_step: f64::INFINITY,
            max_steps: 2_000_000,
            max_changes_at_instant: 64,
            restart_step: 1e-12,
        }
    }
}
