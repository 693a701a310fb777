//! P1c as diffsol's equations: `M y' = -f(y)` with the Jacobian by hand, on any of diffsol's matrices.

use std::cell::RefCell;
use std::marker::PhantomData;
use std::rc::Rc;

use diffsol::{
    ConstantOp, LinearOp, Matrix, NonLinearOp, NonLinearOpJacobian, OdeEquations, OdeEquationsRef, Op, UnitCallable,
    Vector,
};
use diffsol_la::MatrixSparsity;
use stallpoint_solve::{Evaluation, System};

use crate::p1::Drive;
use crate::p1::unknowns::N;

/// The drive and work space, shared by the operators and by what changes the modes.
pub struct Shared {
    pub drive: Drive,
    pub start: [f64; N],
    at: Evaluation,
}

/// Where the entries of a matrix of ours are in one of diffsol's.
type Places<M> = <<M as diffsol::MatrixCommon>::V as Vector>::Index;

pub struct Rhs;
pub struct Mass;
pub struct Roots;
pub struct Init;

/// One operator of the problem.
pub struct Of<M: Matrix, K> {
    shared: Rc<RefCell<Shared>>,
    context: M::C,
    sparsity: M::Sparsity,
    to: Places<M>,
    from: Places<M>,
    values: RefCell<M::V>,
    outputs: usize,
    kind: PhantomData<K>,
}

impl<M: Matrix<T = f64>, K> Of<M, K> {
    fn new(shared: &Rc<RefCell<Shared>>, outputs: usize) -> Self {
        let context = M::C::default();
        let places: Vec<_> = shared.borrow().drive.pattern().entries().map(|(row, column, _)| (row, column)).collect();
        let sparsity = M::Sparsity::try_from_indices(N, N, places.clone()).expect("a pattern of N unknowns");
        let to = sparsity.get_index(&places, context.clone());
        let from = diffsol::VectorIndex::from_vec((0..places.len()).collect(), context.clone());
        let values = RefCell::new(M::V::zeros(places.len(), context.clone()));
        Self { shared: shared.clone(), context, sparsity, to, from, values, outputs, kind: PhantomData }
    }

    /// Copies values in the order of our pattern into a matrix of diffsol's.
    fn write(&self, slots: impl Fn(&Evaluation, &mut [f64]), matrix: &mut M) {
        let mut values = self.values.borrow_mut();
        values.for_each_batch_host([], |to, [], _| slots(&self.shared.borrow().at, to));
        matrix.set_data_with_indices(&self.to, &self.from, &values);
    }
}

impl<M: Matrix<T = f64>, K> Op for Of<M, K> {
    type T = f64;
    type V = M::V;
    type M = M;
    type C = M::C;

    fn context(&self) -> &M::C {
        &self.context
    }
    fn nstates(&self) -> usize {
        N
    }
    fn nout(&self) -> usize {
        self.outputs
    }
    fn nparams(&self) -> usize {
        0
    }
}

impl<M: Matrix<T = f64>> NonLinearOp for Of<M, Rhs> {
    fn call_inplace(&self, x: &M::V, t: f64, y: &mut M::V) {
        let Shared { drive, at, .. } = &mut *self.shared.borrow_mut();
        y.for_each_batch_host([x], |y, [x], _| {
            at.clear(false);
            drive.evaluate(t, x, false, at);
            y.iter_mut().zip(&at.f).for_each(|(y, f)| *y = -f);
        });
    }
}

impl<M: Matrix<T = f64>> NonLinearOpJacobian for Of<M, Rhs> {
    fn jac_mul_inplace(&self, x: &M::V, t: f64, v: &M::V, y: &mut M::V) {
        let Shared { drive, at, .. } = &mut *self.shared.borrow_mut();
        y.for_each_batch_host([x, v], |y, [x, v], _| {
            at.clear(true);
            drive.evaluate(t, x, true, at);
            drive.pattern().multiply(&at.df, v, y);
            y.iter_mut().for_each(|y| *y = -*y);
        });
    }

    fn jacobian_inplace(&self, x: &M::V, t: f64, y: &mut M) {
        {
            let Shared { drive, at, .. } = &mut *self.shared.borrow_mut();
            self.values.borrow_mut().for_each_batch_host([x], |_, [x], _| {
                at.clear(true);
                drive.evaluate(t, x, true, at);
            });
        }
        self.write(|at, to| to.iter_mut().zip(&at.df).for_each(|(to, df)| *to = -df), y);
    }

    fn jacobian_sparsity(&self) -> Option<M::Sparsity> {
        Some(self.sparsity.clone())
    }
}

impl<M: Matrix<T = f64>> LinearOp for Of<M, Mass> {
    fn gemv_inplace(&self, x: &M::V, _: f64, beta: f64, y: &mut M::V) {
        let shared = self.shared.borrow();
        y.for_each_batch_host([x], |y, [x], _| {
            y.iter_mut().for_each(|y| *y *= beta);
            for (row, column, slot) in shared.drive.pattern().entries() {
                y[row] += shared.at.dq[slot] * x[column];
            }
        });
    }

    fn matrix_inplace(&self, _: f64, y: &mut M) {
        self.write(|at, to| to.copy_from_slice(&at.dq), y);
    }

    fn sparsity(&self) -> Option<M::Sparsity> {
        Some(self.sparsity.clone())
    }
}

impl<M: Matrix<T = f64>> NonLinearOp for Of<M, Roots> {
    fn call_inplace(&self, x: &M::V, t: f64, y: &mut M::V) {
        let drive = &mut self.shared.borrow_mut().drive;
        y.for_each_batch_host([x], |y, [x], _| drive.guards(t, x, y));
    }
}

impl<M: Matrix<T = f64>> ConstantOp for Of<M, Init> {
    fn call_inplace(&self, _: f64, y: &mut M::V) {
        y.for_each_batch_host([], |y, [], _| y.copy_from_slice(&self.shared.borrow().start));
    }
}

/// The whole problem.
pub struct Equations<M: Matrix> {
    rhs: Of<M, Rhs>,
    mass: Of<M, Mass>,
    roots: Of<M, Roots>,
    init: Of<M, Init>,
    pub shared: Rc<RefCell<Shared>>,
}

impl<M: Matrix<T = f64>> Equations<M> {
    pub fn new(drive: Drive, start: [f64; N]) -> Self {
        let mut at = Evaluation::new(N, drive.pattern().nonzeros());
        let mut drive = drive;
        // The mass matrix is constant: it is read from here from now on.
        at.clear(true);
        drive.evaluate(0.0, &start, true, &mut at);
        let guards = drive.guard_count();
        let shared = Rc::new(RefCell::new(Shared { drive, start, at }));
        let (rhs, mass) = (Of::new(&shared, N), Of::new(&shared, N));
        let (roots, init) = (Of::new(&shared, guards), Of::new(&shared, N));
        Self { rhs, mass, roots, init, shared }
    }
}

impl<M: Matrix<T = f64>> Op for Equations<M> {
    type T = f64;
    type V = M::V;
    type M = M;
    type C = M::C;

    fn context(&self) -> &M::C {
        self.rhs.context()
    }
    fn nstates(&self) -> usize {
        N
    }
    fn nout(&self) -> usize {
        N
    }
    fn nparams(&self) -> usize {
        0
    }
}

impl<'a, M: Matrix<T = f64>> OdeEquationsRef<'a> for Equations<M> {
    type Rhs = &'a Of<M, Rhs>;
    type Mass = &'a Of<M, Mass>;
    type Root = &'a Of<M, Roots>;
    type Init = &'a Of<M, Init>;
    type Out = UnitCallable<M>;
    type Reset = UnitCallable<M>;
}

impl<M: Matrix<T = f64>> OdeEquations for Equations<M> {
    fn rhs(&self) -> &Of<M, Rhs> {
        &self.rhs
    }
    fn mass(&self) -> Option<&Of<M, Mass>> {
        Some(&self.mass)
    }
    fn root(&self) -> Option<&Of<M, Roots>> {
        Some(&self.roots)
    }
    fn init(&self) -> &Of<M, Init> {
        &self.init
    }
    fn set_params(&mut self, _: &M::V) {}
    fn get_params(&self, _: &mut M::V) {}
}
