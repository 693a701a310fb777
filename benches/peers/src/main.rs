//! Peers of the solver, optional: `cargo xtask bench --peers`. What is measured and how: `../README.md`.

mod contestant;
mod diffsol_equations;
mod diffsol_run;
mod ida;
mod kernel;
mod network;
mod outcome;
#[path = "../../p1/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the benchmarks and tests share this module and use more of it")]
mod p1;
mod restart;
mod transient;

fn main() {
    let short = std::env::args().any(|word| word == "--short");
    let (drawn, rounds) = if short { (60, 5) } else { (600, 31) };
    for l in kernel::measure(&[30, 1000, 10_000, 100_000], rounds) { println!("{} {} {} {} {:.1} us fill {:?} anew {} res {:.1e}", l.network, l.n, l.nonzeros, l.who, l.seconds*1e6, l.fill, l.anew, l.residual); }
    if std::env::args().any(|w| w == "--kernel") { return; }
    let result = transient::measure(drawn, rounds);
    println!("agreement {:?}", result.agreement);
    for s in &result.searches {
        println!("{}: {} drawn {} failed {} astray", s.who.name(), s.drawn, s.failed, s.astray);
    }
    for l in &result.lines {
        println!("{} {:e} {:.2e} {:.3} ms {} {} {} {:?}", l.who.name(), l.target, l.error, 1e3 * l.median, l.steps, l.rejected, l.rescues, l.set);
    }
}
