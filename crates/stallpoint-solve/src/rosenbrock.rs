//! One step of a Rosenbrock method of order 5 for systems whose content is linear: `q = M x`.
//!
//! Rodas5P of G. Steinebach, "Construction of Rosenbrock–Wanner method Rodas5P and numerical benchmarks within the Julia
//! Differential Equations package", BIT Numer. Math. 63 (2023) 27; the coefficients are those of the paper, in the form of
//! E. Hairer and G. Wanner, Solving Ordinary Differential Equations II, IV.7. Stiffly accurate and L-stable; eight stages
//! with one matrix and no iteration; dense output of order 4.

use crate::dense::Step;
use crate::error::SolveError;
use crate::method::Outcome;
use crate::newton::Newton;
use crate::system::{Evaluation, System};
use crate::weights::Weights;

const STAGES: usize = 8;
const GAMMA: f64 = 0.211_937_563_194_290_14;

/// Stage values from earlier stages: rows 2 to 6; rows 7, 8 and the end add one more stage each to row 6.
const A: [[f64; 5]; 6] = [
    [0.0; 5],
    [3.0, 0.0, 0.0, 0.0, 0.0],
    [2.849394379747939, 0.45842242204463923, 0.0, 0.0, 0.0],
    [-6.954028509809101, 2.489845061869568, -10.358996098473584, 0.0, 0.0],
    [2.8029986275628964, 0.5072464736228206, -0.3988312541770524, -0.04721187230404641, 0.0],
    [-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946],
];

/// Earlier stages in the right-hand side of each stage.
const C: [[f64; 7]; STAGES] = [
    [0.0; 7],
    [-14.155112264123755, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [-17.97296035885952, -2.859693295451294, 0.0, 0.0, 0.0, 0.0, 0.0],
    [147.12150275711716, -1.41221402718213, 71.68940251302358, 0.0, 0.0, 0.0, 0.0],
    [165.43517024871676, -0.4592823456491126, 42.90938336958603, -5.961986721573306, 0.0, 0.0, 0.0],
    [24.854864614690072, -3.0009227002832186, 47.4931110020768, 5.5814197821558125, -0.6610691825249471, 0.0, 0.0],
    [
        30.91273214028599,
        -3.1208243349937974,
        77.79954646070892,
        34.28646028294783,
        -19.097331116725623,
        -28.087943162872662,
        0.0,
    ],
    [
        37.80277123390563,
        -3.2571969029072276,
        112.26918849496327,
        66.9347231244047,
        -40.06618937091002,
        -54.66780262877968,
        -9.48861652309627,
    ],
];

/// Time of each stage within the step, and weight of the time derivative.
const TIMES: [f64; STAGES] =
    [0.0, 0.6358126895828704, 0.4095798393397535, 0.9769306725060716, 0.4288403609558664, 1.0, 1.0, 1.0];
const TIME_SLOPE: [f64; STAGES] = [
    0.211_937_563_194_290_14,
    -0.42387512638858027,
    -0.3384627126235924,
    1.8046452872882734,
    2.325825639765069,
    0.0,
    0.0,
    0.0,
];

/// Stages in the coefficients of the dense output.
const BEND: [[f64; STAGES]; 3] = [
    [
        25.948786856663858,
        -2.5579724845846235,
        10.433815404888879,
        -2.3679251022685204,
        0.524948541321073,
        1.1241088310450404,
        0.4272876194431874,
        -0.17202221070155493,
    ],
    [
        -9.91568850695171,
        -0.9689944594115154,
        3.0438037242978453,
        -24.495224566215796,
        20.176138334709044,
        15.98066361424651,
        -6.789040303419874,
        -6.710236069923372,
    ],
    [
        11.419903575922262,
        2.8879645146136994,
        72.92137995996029,
        80.12511834622643,
        -52.072871366152654,
        -59.78993625266729,
        -0.15582684282751913,
        4.883087185713722,
    ],
];

/// The step by which the time derivative is taken, as a part of the step attempted, and at least as a part of the time.
const TIME_DIFFERENCE: f64 = 1e-6;
const TIME_ROUNDING: f64 = 1e-9;
/// Relative change of content that `M Δx` must explain.
const LINEAR: f64 = 1e-9;
/// Residual of the algebraic rows, in units of the tolerance, that is left alone, and Newton steps against it at most.
const PROJECTED: f64 = 1e-6;
const PROJECTIONS: usize = 8;
/// Part of that residual that counts as an error of the step, though it is taken away.
const OFF: f64 = 0.1;
/// Residual above which the inside of the step is looked at.
const LOOK_INSIDE: f64 = 1e-3;
/// Contraction of these steps above which the matrix is renewed.
const SLOW: f64 = 0.1;
/// What is left at the end of the step may be so many times larger within it: rounding, not an error of the dense output.
const NOISE: f64 = 10.0;
/// The dense output may miss the algebraic rows by this many times the tolerance, and where that is looked at. The looks are
/// not even parts of the step, so that a source whose period is the step does not hide.
const DENSE: f64 = 1.5;
const DENSE_LOOKS: [f64; 4] = [0.1, 0.35, 0.65, 0.92];

/// What came of an attempt.
pub(crate) enum Attempt {
    /// A step.
    Step(Outcome),
    /// The content of the system is not linear: another method has to serve.
    NotLinear,
}

/// Workspace of the method.
pub(crate) struct Rosenbrock {
    /// The system at the start of the step, with its Jacobian.
    start: Evaluation,
    /// Entries of `M`: row, column, value.
    mass: Vec<(usize, usize, f64)>,
    time_slope: Vec<f64>,
    /// Whether that is zero.
    autonomous: bool,
    /// Residual of the algebraic rows that no projection takes away, in units of the tolerance.
    noise: f64,
    stages: [Vec<f64>; STAGES],
    sum: Vec<f64>,
    within: Vec<f64>,
    /// Where the evaluation at the end waits while the inside of the step is looked at.
    aside: Evaluation,
    pub(crate) x1: Vec<f64>,
    pub(crate) bend: Vec<f64>,
}

impl Rosenbrock {
    pub(crate) fn new(system: &impl System) -> Self {
        let n = system.size();
        let zeros = || vec![0.0; n];
        Self {
            start: Evaluation::new(n, system.pattern().nonzeros()),
            mass: Vec::new(),
            time_slope: zeros(),
            noise: 0.0,
            autonomous: false,
            stages: std::array::from_fn(|_| zeros()),
            sum: zeros(),
            within: zeros(),
            aside: Evaluation::new(n, system.pattern().nonzeros()),
            x1: zeros(),
            bend: vec![0.0; BEND.len() * n],
        }
    }

    /// Takes `(t, x)` as the start of the next attempts.
    pub(crate) fn start(&mut self, system: &mut impl System, newton: &mut Newton, t: f64, x: &[f64]) {
        newton.evaluate(system, t, x, true);
        self.keep(system, newton);
    }

    /// Keeps the evaluation in `newton.at` as the start.
    fn keep(&mut self, system: &impl System, newton: &mut Newton) {
        std::mem::swap(&mut self.start, &mut newton.at);
        // The other one holds the last start's; content is linear, so its slopes hardly ever change.
        if !self.mass.is_empty() && self.start.dq == newton.at.dq {
            return;
        }
        self.mass.clear();
        for (row, column, slot) in system.pattern().entries() {
            if self.start.dq[slot] != 0.0 {
                self.mass.push((row, column, self.start.dq[slot]));
            }
        }
    }

    /// Attempts a step of length `h` from `(t, x0)`, leaving the result in `x1` and `bend`, and its evaluation with
    /// Jacobian in `newton.at`.
    pub(crate) fn attempt(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        x0: &[f64],
        h: f64,
    ) -> Result<Attempt, SolveError> {
        let n = x0.len();
        let c = GAMMA * h;
        newton.factor_stage(system, &self.start, c, t)?;
        // Within the step: a source may have a corner at its end.
        let ahead = (TIME_DIFFERENCE * h).max(TIME_ROUNDING * t.abs()).min(h);
        newton.evaluate(system, t + ahead, x0, false);
        newton.finite(system, t)?;
        for ((slope, f), start) in self.time_slope.iter_mut().zip(&newton.at.f).zip(&self.start.f) {
            *slope = (f - start) / ahead;
        }
        self.autonomous = self.time_slope.iter().all(|slope| *slope == 0.0);
        for stage in 0..STAGES {
            if stage > 0 {
                self.stage_value(stage, x0);
                newton.evaluate(system, t + TIMES[stage] * h, &self.x1, false);
                newton.finite(system, t)?;
            }
            self.right_hand_side(stage, system.differential(), &newton.at, h);
            newton.solve(&mut self.stages[stage]);
        }
        for i in 0..n {
            self.x1[i] += self.stages[STAGES - 1][i];
        }
        self.consistent_error(system.differential(), newton);
        let error = weights.error_norm(&self.sum, &self.x1, x0);
        if error > 1.0 || error.is_nan() {
            let worst = weights.worst(&self.sum, &self.x1);
            return Ok(Attempt::Step(Outcome { error, dense: 0.0, worst }));
        }
        newton.evaluate(system, t + h, &self.x1, true);
        newton.finite(system, t)?;
        if !self.content_is_linear(&newton.at, x0) {
            return Ok(Attempt::NotLinear);
        }
        let (off, worst) = self.project(system, newton, weights, t + h, c)?;
        self.bend(n);
        let follows_time = |(slope, differential): (&f64, &bool)| !differential && *slope != 0.0;
        let follows_time = !self.autonomous && self.time_slope.iter().zip(system.differential()).any(follows_time);
        let dense =
            if off > LOOK_INSIDE || follows_time { self.dense_error(system, newton, weights, t, x0, h)? } else { 0.0 };
        Ok(Attempt::Step(Outcome { error: error.max(OFF * off), dense, worst }))
    }

    /// The embedded error in `sum`; in algebraic unknowns, filtered by the iteration matrix: they follow those with content, as they
    /// will once the end is back on the rows, so that what the stages alone get wrong in them (where one turns on by an exponential) is
    /// not held against the step.
    fn consistent_error(&mut self, differential: &[bool], newton: &mut Newton) {
        self.sum.fill(0.0);
        for &(row, column, mass) in &self.mass {
            self.sum[row] += mass * self.stages[STAGES - 1][column];
        }
        newton.solve(&mut self.sum);
        for (i, value) in self.sum.iter_mut().enumerate().filter(|&(i, _)| differential[i]) {
            *value = self.stages[STAGES - 1][i];
        }
    }

    /// The end of the accepted step becomes the start of the next.
    pub(crate) fn accept(&mut self, system: &impl System, newton: &mut Newton) {
        self.keep(system, newton);
    }

    /// Value of the unknowns at a stage, in `x1`.
    fn stage_value(&mut self, stage: usize, x0: &[f64]) {
        let earlier = &self.stages;
        if stage >= A.len() {
            for (value, u) in self.x1.iter_mut().zip(&earlier[stage - 1]) {
                *value += u;
            }
            return;
        }
        let a = &A[stage];
        // One pass over two stages at a time.
        let mut from: Option<&[f64]> = Some(x0);
        for pair in (0..stage).step_by(2) {
            let second = if pair + 1 < stage { a[pair + 1] } else { 0.0 };
            let (u, v) = (&earlier[pair], &earlier[pair + 1]);
            match from.take() {
                Some(x0) => {
                    for (((value, x), u), v) in self.x1.iter_mut().zip(x0).zip(u).zip(v) {
                        *value = x + a[pair] * u + second * v;
                    }
                }
                None => {
                    for ((value, u), v) in self.x1.iter_mut().zip(u).zip(v) {
                        *value += a[pair] * u + second * v;
                    }
                }
            }
        }
    }

    /// `-c f + γ M Σ C u - c h d f_t` in differential rows, `-f - h d f_t` in the others, where the stage will be.
    fn right_hand_side(&mut self, stage: usize, differential: &[bool], at: &Evaluation, h: f64) {
        let f = if stage == 0 { &self.start.f } else { &at.f };
        let (earlier, rest) = self.stages.split_at_mut(stage);
        let out = &mut rest[0];
        let c = GAMMA * h;
        let lead = h * TIME_SLOPE[stage];
        let rows = out.iter_mut().zip(f).zip(&self.time_slope).zip(differential);
        if self.autonomous || lead == 0.0 {
            for (((out, f), _), &differential) in rows {
                *out = if differential { -c * f } else { -f };
            }
        } else {
            for (((out, f), slope), &differential) in rows {
                let f = f + lead * slope;
                *out = if differential { -c * f } else { -f };
            }
        }
        for &(row, column, mass) in &self.mass {
            let mut sum = 0.0;
            for (weight, u) in C[stage].iter().zip(earlier.iter()) {
                sum += weight * u[column];
            }
            out[row] += GAMMA * mass * sum;
        }
    }

    /// Whether the change of content is `M Δx`.
    fn content_is_linear(&mut self, at: &Evaluation, x0: &[f64]) -> bool {
        self.sum.fill(0.0);
        for &(row, column, mass) in &self.mass {
            self.sum[row] += mass * (self.x1[column] - x0[column]);
        }
        let explained = |i: usize| {
            let change = at.q[i] - self.start.q[i];
            (change - self.sum[i]).abs() <= LINEAR * (at.q[i].abs() + self.start.q[i].abs() + self.sum[i].abs())
        };
        (0..x0.len()).all(explained)
    }

    /// Brings the end back onto algebraic rows that are not linear; returns how far it was off, in units of the tolerance.
    fn project(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        c: f64,
    ) -> Result<(f64, usize), SolveError> {
        let mut first = (0.0, 0);
        let mut before = f64::INFINITY;
        let mut renewed = false;
        for round in 0..PROJECTIONS {
            self.off_the_rows(system, newton);
            let off = weights.norm(&self.sum, &self.x1, &self.x1);
            if round == 0 {
                let worst = if OFF * off > 1.0 { weights.worst(&self.sum, &self.x1) } else { 0 };
                first = (off, worst);
            }
            let stays = renewed && off > SLOW * before && self.is_rounding(system, newton);
            self.noise = if stays { off } else { 0.0 };
            if off <= PROJECTED || stays {
                break;
            }
            if off > SLOW * before {
                renewed = true;
                newton.factor_here(system, c, t)?;
                self.off_the_rows(system, newton);
            }
            before = off;
            for (value, step) in self.x1.iter_mut().zip(&self.sum) {
                *value += step;
            }
            newton.evaluate(system, t, &self.x1, true);
            newton.finite(system, t)?;
        }
        Ok(first)
    }

    /// Whether what is left in the algebraic rows is rounding of their terms.
    fn is_rounding(&mut self, system: &impl System, newton: &mut Newton) -> bool {
        let rows = self.within.iter_mut().zip(&newton.at.f).zip(system.differential());
        rows.for_each(|((residual, f), &differential)| *residual = if differential { 0.0 } else { *f });
        newton.is_rounding(system, &self.x1, &self.within)
    }

    /// A Newton step onto the algebraic rows from where `newton.at` was evaluated, in `sum`.
    fn off_the_rows(&mut self, system: &impl System, newton: &mut Newton) {
        for i in 0..self.sum.len() {
            self.sum[i] = if system.differential()[i] { 0.0 } else { -newton.at.f[i] };
        }
        newton.solve(&mut self.sum);
    }

    /// How far the dense output misses the algebraic rows within the step, in units of what it may. The error
    /// estimate says nothing of unknowns that follow time itself: right at the ends however long the step is.
    fn dense_error(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        x0: &[f64],
        h: f64,
    ) -> Result<f64, SolveError> {
        let mut off = 0.0_f64;
        std::mem::swap(&mut newton.at, &mut self.aside);
        for theta in DENSE_LOOKS {
            let step = Step { t0: t, t1: t + h, x0, x1: &self.x1, bend: &self.bend };
            step.sample(theta, &mut self.within);
            newton.evaluate(system, step.time(theta), &self.within, false);
            newton.finite(system, t)?;
            self.off_the_rows(system, newton);
            off = off.max(weights.error_norm(&self.sum, &self.x1, x0));
        }
        std::mem::swap(&mut newton.at, &mut self.aside);
        Ok((off - NOISE * self.noise).max(0.0) / DENSE)
    }

    fn bend(&mut self, n: usize) {
        let [a, b, c, d, e, f, g, h] = self.stages.each_ref().map(|stage| &stage[..n]);
        for (k, w) in self.bend.chunks_exact_mut(n.max(1)).zip(BEND) {
            for i in 0..k.len() {
                let first = w[0] * a[i] + w[1] * b[i] + w[2] * c[i] + w[3] * d[i];
                k[i] = first + (w[4] * e[i] + w[5] * f[i] + w[6] * g[i] + w[7] * h[i]);
            }
        }
    }
}
