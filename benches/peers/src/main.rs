mod diffsol_equations;
mod diffsol_run;
mod outcome;
#[path = "../../p1/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the benchmarks and tests share this module and use more of it")]
mod p1;
mod restart;

fn main() {
    let start = p1::rest(p1::Variant::P1C).unwrap();
    let reference = p1::Reference::p1c();
    use diffsol_run::*;
    for method in [Method::Bdf, Method::Esdirk34, Method::TrBdf2] {
        for backend in [Backend::FaerSparse, Backend::Nalgebra] {
            for rtol in [1e-3, 1e-4, 1e-5, 1e-6, 1e-7] {
                for algebraic in [1.0, 1e3, 1e6] {
                    let o = Options { method, backend, rtol, atol: 1.0, algebraic, restart_step: 1e-11, first_step: 1e-9, nonlinear: 0.2, newton_most: 10 };
                    let out = run(&start, &o);
                    println!("{method:?} {backend:?} {rtol:e} {algebraic:e}: {:.2e} {:.2} ms, {} steps {} rejected {:?} arcs {} {:?}", out.error(&reference).max, out.seconds * 1e3, out.steps, out.rejected, out.newton, out.arcs, out.failure);
                }
            }
        }
    }
}
