//! One evaluation of the hand-written equations: what the solver cannot make cheaper.

use divan::Bencher;
use stallpoint_solve::{Evaluation, System};

use crate::p1::{Variant, rest, unknowns::N};

/// Without and with the Jacobian, at rest, where three contacts are open.
#[divan::bench(args = [false, true])]
fn evaluate(bencher: Bencher, jacobian: bool) {
    let (mut drive, x) = rest(Variant::P1C).expect("a solution at rest");
    let mut out = Evaluation::new(N, drive.pattern().nonzeros());
    bencher.bench_local(|| {
        out.clear(jacobian);
        drive.evaluate(0.0, divan::black_box(&x), jacobian, &mut out);
        out.f[0]
    });
}
