//! P1c by diffsol: BDF, ESDIRK34 or TR-BDF2, with its own root finding.

use std::time::Instant;

use diffsol::{
    DefaultDenseMatrix, FaerSparseMat, LinearSolver, Matrix, MatrixCommon, NalgebraMat, OdeBuilder, OdeSolverMethod,
    OdeSolverProblem, OdeSolverState, OdeSolverStopReason, Vector, VectorRef,
};
use diffsol_la::MatrixRef;
use stallpoint_solve::{Cause, System};

use crate::diffsol_equations::Equations;
use crate::outcome::Outcome;
use crate::p1::unknowns::{IM, N, OM, U1, VB, VK, VN};
use crate::p1::{Drive, END, POINTS, time};
use crate::restart::Restart;

/// Restarts allowed after failures.
const RESCUES: u32 = 20;

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Method {
    Bdf,
    Esdirk34,
    TrBdf2,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Backend {
    FaerSparse,
    Nalgebra,
}

#[derive(Debug, Clone, Copy)]
pub struct Options {
    pub method: Method,
    pub backend: Backend,
    pub rtol: f64,
    /// Absolute tolerance of a state: `rtol * atol * its size`; of an algebraic unknown `algebraic` times that.
    pub atol: f64,
    pub algebraic: f64,
    pub restart_step: f64,
    /// First step after an event.
    pub first_step: f64,
    /// Tolerance of the Newton iteration, and its most iterations.
    pub nonlinear: f64,
    pub newton_most: usize,
}

/// One run, timed from the initial values; what can be prepared is prepared before.
pub fn run(start: &(Drive, [f64; N]), o: &Options) -> Outcome {
    let ran = match o.backend {
        Backend::FaerSparse => with::<FaerSparseMat<f64>, diffsol::FaerSparseLU<f64>>(start, o),
        Backend::Nalgebra => with::<NalgebraMat<f64>, diffsol::NalgebraLU<f64>>(start, o),
    };
    ran.unwrap_or_else(Outcome::failed)
}

fn with<M, LS>(start: &(Drive, [f64; N]), o: &Options) -> Result<Outcome, String>
where
    M: Matrix<T = f64>,
    <M as MatrixCommon>::V: DefaultDenseMatrix,
    for<'b> &'b M: MatrixRef<M>,
    for<'b> &'b <M as MatrixCommon>::V: VectorRef<<M as MatrixCommon>::V>,
    LS: LinearSolver<M>,
{
    let (drive, x) = start.clone();
    let size = |i: usize| o.rtol * o.atol * drive.scale()[i] * if i < U1 { o.algebraic } else { 1.0 };
    let atol: Vec<f64> = (0..N).map(size).collect();
    let mut restart = Restart::new(&drive, o.rtol, o.restart_step)?;
    let equations = Equations::<M>::new(drive, x);
    let mut problem = OdeBuilder::<M>::new()
        .t0(0.0)
        .h0(o.first_step)
        .rtol(o.rtol)
        .atol(atol)
        .build_from_eqn(equations)
        .map_err(|error| error.to_string())?;
    problem.ode_options.nonlinear_solver_tolerance = o.nonlinear;
    problem.ode_options.max_nonlinear_solver_iterations = o.newton_most;
    problem.ode_options.max_error_test_failures = 50;
    problem.ode_options.max_nonlinear_solver_failures = 50;
    problem.ode_options.min_timestep = 1e-14;
    macro_rules! go {
        ($state:ident, $solver:ident) => {{
            let state = diffsol::$state::new_without_initialise(&problem).map_err(|error| error.to_string())?;
            let solver = problem.$solver::<LS>(state).map_err(|error| error.to_string())?;
            walk(solver, &problem, &mut restart)
        }};
    }
    match o.method {
        Method::Bdf => go!(BdfState, bdf_solver),
        Method::Esdirk34 => go!(RkState, esdirk34_solver),
        Method::TrBdf2 => go!(RkState, tr_bdf2_solver),
    }
}

fn walk<'a, M, S>(
    mut solver: S,
    problem: &'a OdeSolverProblem<Equations<M>>,
    restart: &mut Restart,
) -> Result<Outcome, String>
where
    M: Matrix<T = f64>,
    S: OdeSolverMethod<'a, Equations<M>>,
{
    let shared = &problem.eqn.shared;
    let say = |error: diffsol::error::DiffsolError| error.to_string();
    let mut rows: Vec<[f64; 4]> = Vec::with_capacity(POINTS);
    let mut y = M::V::zeros(N, problem.context().clone());
    let mut rescues = 0;
    let clock = Instant::now();
    let next = |shared: &Drive| shared.next_stop().unwrap_or(END).min(END);
    solver.set_stop_time(next(&shared.borrow().drive)).map_err(say)?;
    loop {
        let reason = solver.step();
        let here = match reason {
            Ok(OdeSolverStopReason::RootFound(t, _)) => t,
            _ => solver.state().t,
        };
        while reason.is_ok() && rows.len() < POINTS && time(rows.len()) <= here + 1e-13 {
            let t = time(rows.len()).min(here);
            solver.interpolate_inplace(t, &mut y).map_err(say)?;
            y.for_each_batch_host([], |y, [], _| rows.push([y[IM], y[OM], y[VK] - y[VN], y[VB]]));
        }
        let cause = match reason {
            Ok(OdeSolverStopReason::InternalTimestep) => continue,
            Ok(OdeSolverStopReason::TstopReached) if here >= END => break,
            Ok(OdeSolverStopReason::TstopReached) => Some(Cause::Schedule),
            Ok(OdeSolverStopReason::RootFound(t, guard)) => {
                solver.state_mut_back(t).map_err(say)?;
                Some(Cause::Guard(guard))
            }
            // A failure gets another chance from its last good values.
            Err(_) if rescues < RESCUES => {
                rescues += 1;
                None
            }
            Err(error) => return Err(format!("at {here:.6} s: {error}")),
        };
        let (mut t, mut settled) = (here, Ok(()));
        let stop = {
            let drive = &mut shared.borrow_mut().drive;
            let state = solver.state_mut();
            M::V::for_each_batch_mut_host([state.y, state.dy], [], |[y, dy], [], _| {
                if let Some(cause) = cause {
                    drive.fire(cause, t, y);
                }
                settled = restart.settle(drive, &mut t, y, dy);
            });
            (*state.t, *state.h) = (t, problem.h0);
            next(drive)
        };
        settled?;
        solver.set_stop_time(stop).map_err(say)?;
        // The mode changed: this makes the solver take a new Jacobian.
        solver.checkpoint();
    }
    let seconds = clock.elapsed().as_secs_f64();
    let statistics = solver.get_statistics();
    let drive = &shared.borrow().drive;
    Ok(Outcome {
        seconds,
        rows,
        events: drive.events.clone(),
        arcs: drive.arc_events,
        steps: statistics.number_of_steps as u64,
        rejected: (statistics.number_of_error_test_failures + statistics.number_of_nonlinear_solver_fails) as u64,
        rescues,
        failure: None,
    })
}
