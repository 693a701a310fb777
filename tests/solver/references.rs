//! Stiff problems with published solutions: F. Mazzia and C. Magherini, Test Set for Initial Value Problem Solvers
//! (Bari), problems ROBER and VDPOL; facts only.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::Options;

/// Three reactions (H. H. Robertson, in: Numerical Analysis, an Introduction, ed. J. Walsh, 1966, p. 178).
#[derive(Clone)]
struct Robertson;

impl Model for Robertson {
    fn differential(&self) -> Vec<bool> {
        vec![true; 3]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        let (slow, back, fast) = (0.04 * x[0], 1e4 * x[1] * x[2], 3e7 * x[1] * x[1]);
        (f[0], f[1], f[2]) = (slow - back, back + fast - slow, -fast);
    }

    // The intermediate is small all the time; at the end the first is too.
    fn scale(&self) -> Vec<f64> {
        vec![1e-8, 1e-13, 1.0]
    }
}

#[test]
fn val_robertson_after_1e11_s() {
    let reference = [0.2083340149701255e-7, 0.8333360770334713e-13, 0.999999979166505];
    for (tolerance, allowed) in [(1e-4, 1e-3), (1e-6, 1e-5)] {
        let record = Problem::new(Robertson).run((0.0, 1e11), &[1.0, 0.0, 0.0], &rtol(tolerance)).unwrap();
        println!("{tolerance:e}: {:?} {:?}", record.x, record.ended.unwrap().counters);
        for (found, exact) in record.x.iter().zip(reference) {
            assert!((found / exact - 1.0).abs() < allowed, "{tolerance:e}: {found:e} against {exact:e}");
        }
        // Mass is conserved by a linear combination of the rows, so to rounding whatever the tolerance.
        let mass: f64 = record.x.iter().sum();
        assert!((mass - 1.0).abs() < 1e-9, "{mass}");
    }
}

/// Van der Pol's oscillator with ε = 1e-6 in the slow time.
#[derive(Clone)]
struct VanDerPol;

impl Model for VanDerPol {
    fn differential(&self) -> Vec<bool> {
        vec![true; 2]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        f[0] = -x[1];
        f[1] = -((1.0 - x[0] * x[0]) * x[1] - x[0]) / 1e-6;
    }
}

#[test]
fn val_stiff_van_der_pol_after_2_s() {
    let reference = [1.706167732170483, -0.8928097010247975];
    for (tolerance, allowed) in [(1e-4, 1e-3), (1e-6, 1e-5)] {
        let options = Options { max_steps: 200_000, ..rtol(tolerance) };
        let record = Problem::new(VanDerPol).run((0.0, 2.0), &[2.0, 0.0], &options).unwrap();
        println!("{tolerance:e}: {:?} {:?}", record.x, record.ended.unwrap().counters);
        assert_eq!(record.ended.unwrap().t, 2.0);
        for (found, exact) in record.x.iter().zip(reference) {
            assert!((found - exact).abs() < allowed, "{tolerance:e}: {found} against {exact}");
        }
    }
}
