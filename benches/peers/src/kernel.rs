//! Refactorisation and solution of one sparse matrix: ours, KLU's and faer's.

use std::ffi::c_int;
use std::hint::black_box;
use std::time::Instant;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::linalg::lu::{NumericLu, SymbolicLu, factorize_symbolic_lu};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMat};
use faer::{Conj, MatMut, Par};
use stallpoint_solve::sparse::{LANES, Lanes, Lu};

use crate::network::Network;
use crate::transient::median;

#[repr(C)]
struct Raw {
    _private: [u8; 0],
}

unsafe extern "C" {
    fn kernel_open(
        n: c_int,
        columns: *const c_int,
        rows: *const c_int,
        values: *const f64,
        o: c_int,
        s: c_int,
    ) -> *mut Raw;
    fn kernel_solve(kernel: *mut Raw, values: *const f64, b: *mut f64) -> c_int;
    fn kernel_fill(kernel: *const Raw) -> c_int;
    fn kernel_close(kernel: *mut Raw);
}

/// One kernel with its analysis done.
trait Kernel {
    /// Factorises the matrix of this turn and solves; whether it could.
    fn solve(&mut self, network: &Network, turn: usize, b: &mut [f64]) -> bool;
    /// Matrices that one call treats.
    fn matrices(&self) -> usize {
        1
    }
    /// Entries of the factors, where they can be asked for.
    fn fill(&self) -> Option<usize> {
        None
    }
    /// Factorisations that chose scales or pivots anew, where they can be asked for.
    fn anew(&self) -> u64 {
        0
    }
}

impl Kernel for Lu {
    fn solve(&mut self, network: &Network, turn: usize, b: &mut [f64]) -> bool {
        let factored = self.factor(black_box(network.of(turn))).is_ok();
        Lu::solve(self, b);
        factored
    }
    fn fill(&self) -> Option<usize> {
        Some(Lu::fill(self))
    }
    fn anew(&self) -> u64 {
        self.rescales().max(self.repivots())
    }
}

/// Our lanes, each with the matrix of another turn; the arrays of lanes are made beforehand, as a sweep would keep them.
struct Eight {
    lanes: Lanes,
    values: [Vec<[f64; LANES]>; 2],
    right: Vec<[f64; LANES]>,
    b: Vec<[f64; LANES]>,
}

impl Eight {
    fn new(network: &Network, lu: &Lu, right: &[f64]) -> Option<Self> {
        let values = [0, 1].map(|turn| {
            let slots = 0..network.pattern.nonzeros();
            slots.map(|slot| std::array::from_fn(|lane| network.of(turn + lane)[slot])).collect()
        });
        let right: Vec<_> = right.iter().map(|&b| [b; LANES]).collect();
        Some(Self { lanes: lu.lanes()?, values, b: right.clone(), right })
    }
}

impl Kernel for Eight {
    fn solve(&mut self, _: &Network, turn: usize, b: &mut [f64]) -> bool {
        self.b.copy_from_slice(&self.right);
        let good = self.lanes.factor(black_box(&self.values[turn % 2]));
        self.lanes.solve(&mut self.b);
        b.iter_mut().zip(&self.b).for_each(|(b, lanes)| *b = lanes[0]);
        good == [true; LANES]
    }
    fn matrices(&self) -> usize {
        LANES
    }
}

/// KLU with one of its orderings (0: AMD, 1: COLAMD) and scalings (-1: none, 2: by the row's largest).
struct Klu(*mut Raw);

impl Klu {
    fn new(network: &Network, ordering: c_int, scale: c_int) -> Option<Self> {
        let (columns, rows) = compressed::<c_int>(network);
        // SAFETY: the arrays fit each other and C copies the pattern.
        let raw = unsafe {
            let n = network.pattern.n() as c_int;
            kernel_open(n, columns.as_ptr(), rows.as_ptr(), network.values[0].as_ptr(), ordering, scale)
        };
        (!raw.is_null()).then_some(Self(raw))
    }
}

impl Kernel for Klu {
    fn solve(&mut self, network: &Network, turn: usize, b: &mut [f64]) -> bool {
        let values = black_box(network.of(turn));
        // SAFETY: as many values as the pattern has entries, and `b` of length n.
        unsafe { kernel_solve(self.0, values.as_ptr(), b.as_mut_ptr()) != 0 }
    }
    fn fill(&self) -> Option<usize> {
        // SAFETY: the kernel is open.
        Some(unsafe { kernel_fill(self.0) } as usize)
    }
}

impl Drop for Klu {
    fn drop(&mut self) {
        // SAFETY: opened by `new`, closed once.
        unsafe { kernel_close(self.0) }
    }
}

/// faer's sparse LU, which pivots anew each time: it has no refactorisation for unsymmetric matrices.
struct Faer {
    pattern: SymbolicSparseColMat<usize>,
    symbolic: SymbolicLu<usize>,
    numeric: NumericLu<usize, f64>,
    memory: MemBuffer,
}

impl Faer {
    fn new(network: &Network) -> Option<Self> {
        let (columns, rows) = compressed::<usize>(network);
        let n = network.pattern.n();
        let pattern = SymbolicSparseColMat::new_checked(n, n, columns, None, rows);
        let symbolic = factorize_symbolic_lu(pattern.as_ref(), Default::default()).ok()?;
        let factor = symbolic.factorize_numeric_lu_scratch::<f64>(Par::Seq, Default::default());
        let memory = MemBuffer::new(factor.or(symbolic.solve_in_place_scratch::<f64>(1, Par::Seq)));
        Some(Self { pattern, symbolic, numeric: NumericLu::new(), memory })
    }
}

impl Kernel for Faer {
    fn solve(&mut self, network: &Network, turn: usize, b: &mut [f64]) -> bool {
        let matrix = SparseColMatRef::new(self.pattern.as_ref(), black_box(network.of(turn)));
        let stack = MemStack::new(&mut self.memory);
        let lu = self.symbolic.factorize_numeric_lu(&mut self.numeric, matrix, Par::Seq, stack, Default::default());
        let n = b.len();
        let Ok(lu) = lu else { return false };
        lu.solve_in_place_with_conj(Conj::No, MatMut::from_column_major_slice_mut(b, n, 1), Par::Seq, stack);
        true
    }
}

/// Compressed columns in another integer.
fn compressed<I: TryFrom<usize>>(network: &Network) -> (Vec<I>, Vec<I>)
where
    I::Error: std::fmt::Debug,
{
    let small = |i: usize| I::try_from(i).expect("an index that fits");
    let pattern = &network.pattern;
    let mut columns: Vec<I> = (0..pattern.n()).map(|column| small(pattern.column(column).0.start)).collect();
    columns.push(small(pattern.nonzeros()));
    (columns, pattern.entries().map(|(row, _, _)| small(row)).collect())
}

/// What was measured on one matrix.
pub struct Line {
    pub network: String,
    pub n: usize,
    pub nonzeros: usize,
    pub who: &'static str,
    pub seconds: f64,
    pub fill: Option<usize>,
    /// Share of the calls that chose scales or pivots anew.
    pub anew: f64,
    /// Largest residual over the largest right side; infinite if the matrix was refused.
    pub residual: f64,
}

pub const NAMES: [&str; 4] = ["this library", "KLU", "faer sparse LU", "this library, a matrix of eight in lanes"];
/// Unknowns of the harnesses, about.
pub const SIZES: [usize; 6] = [30, 100, 1000, 10_000, 30_000, 100_000];

/// All kernels by turns on one matrix; of KLU the best of its orderings and scalings.
fn compare(network: &Network, rounds: usize) -> Vec<Line> {
    let n = network.pattern.n();
    let mut kernels: Vec<(&'static str, Box<dyn Kernel>)> = Vec::new();
    let mut lu = Lu::new(&network.pattern).expect("a regular pattern");
    // An analysis that fails here fails again below and is told there.
    let _ = lu.factor(&network.values[0]);
    let right: Vec<f64> = (0..n).map(|i| 1.0 + (i % 7) as f64).collect();
    let lanes = Eight::new(network, &lu, &right);
    kernels.push((NAMES[0], Box::new(lu)));
    kernels.extend(lanes.map(|lanes| (NAMES[3], Box::new(lanes) as _)));
    for (ordering, scale) in [(0, -1), (0, 2), (1, -1), (1, 2)] {
        kernels.extend(Klu::new(network, ordering, scale).map(|klu| (NAMES[1], Box::new(klu) as _)));
    }
    kernels.extend(Faer::new(network).map(|faer| (NAMES[2], Box::new(faer) as _)));
    let batch = (200_000 / n).clamp(1, 2000);
    let mut times = vec![Vec::new(); kernels.len()];
    let mut b = right.clone();
    for _ in 0..rounds {
        for ((_, kernel), times) in kernels.iter_mut().zip(&mut times) {
            let clock = Instant::now();
            for turn in 0..batch {
                b.copy_from_slice(&right);
                kernel.solve(network, turn, &mut b);
                black_box(&b);
            }
            times.push(clock.elapsed().as_secs_f64() / (batch * kernel.matrices()) as f64);
        }
    }
    let mut lines: Vec<Line> = Vec::new();
    for ((who, kernel), times) in kernels.iter_mut().zip(&mut times) {
        b.copy_from_slice(&right);
        let solved = kernel.solve(network, 1, &mut b);
        let mut product = vec![0.0; n];
        network.pattern.multiply(&network.values[1], &b, &mut product);
        let residual = product.iter().zip(&right).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) / 7.0;
        let residual = if solved { residual } else { f64::INFINITY };
        let (seconds, fill) = (median(times), kernel.fill());
        let anew = kernel.anew() as f64 / (rounds * batch) as f64;
        let nonzeros = network.pattern.nonzeros();
        let line = Line { network: network.name.clone(), n, nonzeros, who, seconds, fill, anew, residual };
        match lines.iter_mut().find(|known| known.who == *who) {
            Some(known) if known.seconds <= line.seconds => {}
            Some(known) => *known = line,
            None => lines.push(line),
        }
    }
    lines
}

/// P1's matrix and the harnesses.
pub fn measure(sizes: &[usize], rounds: usize) -> Vec<Line> {
    let harness = |deep: bool| sizes.iter().map(move |&size| Network::harness(size, deep));
    let networks = std::iter::once(Network::p1()).chain(harness(false)).chain(harness(true));
    networks.flat_map(|network| compare(&network, rounds)).collect()
}
