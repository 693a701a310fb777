//! The analytic Jacobian of the problem against differences.

use stallpoint_solve::{Cause, Evaluation, System};

use crate::p1::unknowns::{IL1, IM, IR, LAM, N, NAMES, OM, TW, VA1, VB, VBI, VK, VMA, VP};
use crate::p1::{Drive, Variant};

/// Compares every entry with a central difference; also that no entry is missing from the pattern.
fn compare(drive: &mut Drive, t: f64, x: &[f64; N]) {
    let pattern = drive.pattern().clone();
    let mut at = Evaluation::new(N, pattern.nonzeros());
    drive.evaluate(t, x, true, &mut at);
    for column in 0..N {
        let h = 1e-6 * x[column].abs().max(1e-2);
        let mut sides = [1.0, -1.0].map(|side| {
            let mut moved = *x;
            moved[column] += side * h;
            let mut out = Evaluation::new(N, pattern.nonzeros());
            drive.evaluate(t, &moved, false, &mut out);
            (moved[column], out)
        });
        let width = sides[0].0 - sides[1].0;
        let [(_, up), (_, down)] = &mut sides;
        for row in 0..N {
            let slot = pattern.slot(row, column);
            for (kind, analytic, up, down) in
                [("df", &at.df, up.f[row], down.f[row]), ("dq", &at.dq, up.q[row], down.q[row])]
            {
                let analytic = slot.map_or(0.0, |slot| analytic[slot]);
                let difference = (up - down) / width;
                // Half the rounding of terms of 1e5 A, over the width; and the difference's own cubic term.
                let bound = 1e-6 * analytic.abs() + 0.5 * f64::EPSILON * 1e5 / width;
                assert!(
                    (analytic - difference).abs() <= bound,
                    "{kind}[{}, {}]: {analytic} instead of {difference}, bound {bound:e}",
                    NAMES[row],
                    NAMES[column]
                );
            }
        }
    }
}

/// A state in which nothing is zero.
fn state() -> [f64; N] {
    let mut x: [f64; N] = std::array::from_fn(|i| 1.0 + 0.1 * i as f64);
    (x[VB], x[VBI], x[VP], x[VMA], x[VA1], x[VK]) = (12.1, 11.7, 10.9, 10.2, 9.7, 0.4);
    (x[IL1], x[IM], x[IR], x[LAM], x[OM], x[TW]) = (41.0, 40.0, 42.0, 0.04, 0.3, 65.0);
    x
}

#[test]
fn exact_jacobian_is_the_derivative_in_every_kind_of_mode() {
    for variant in [Variant::P1, Variant::P1B, Variant::P1C, Variant::P1X] {
        let mut drive = Drive::new(variant);
        let mut x = state();
        compare(&mut drive, 0.0, &x);
        // A+ beyond its 16 V, and in the bend of the smooth clamp; where it is a state, the arc is struck.
        for vma in [-20.0, -5.2] {
            x[VMA] = vma;
            compare(&mut drive, 0.0, &x);
        }
        drive.fire(Cause::Guard(2), 0.0, &mut x);
        compare(&mut drive, 0.0, &x);
        // Control on, and the armature in the middle of its travel.
        drive.fire(Cause::Schedule, 0.05, &mut x);
        drive.fire(Cause::Guard(0), 0.054, &mut x);
        compare(&mut drive, 0.060, &x);
        drive.fire(Cause::Schedule, 0.066, &mut x);
        compare(&mut drive, 0.066, &x);
    }
}
