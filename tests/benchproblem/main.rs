//! explore
#[path = "../../benches/p1/mod.rs"]
#[allow(dead_code, unused_imports)]
mod p1;
use p1::*;

#[test]
fn explore() {
    let reference = Reference::p1();
    for variant in [Variant::P1, Variant::P1C] {
        let mut last: Option<Run> = None;
        for rtol in [1e-6, 1e-7, 1e-8, 1e-9, 1e-10] {
            let t = std::time::Instant::now();
            match run(variant, rtol) {
                Ok(run) => {
                    let d = difference(&run.samples.rows, &reference.rows, &reference.events);
                    println!(
                        "{} {rtol:e} {d:?}\n   {:?} {} arcs {} {:?}",
                        variant.name,
                        run.counters,
                        run.events.len(),
                        run.arc_events,
                        t.elapsed()
                    );
                    let ev = run.events.iter().zip(&reference.events).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
                    println!(
                        "   events off {ev:e} {:?} {} {} pull {} drop {}",
                        run.samples.peak_current,
                        run.samples.lowest_coil_voltage,
                        run.samples.speed_at_1_s,
                        run.events[1],
                        run.events[10]
                    );
                    if let Some(l) = &last {
                        println!("   to last {:?}", difference(&run.samples.rows, &l.samples.rows, &reference.events));
                    }
                    last = Some(run);
                }
                Err(e) => println!("{} {rtol:e} FAILED {e}", variant.name),
            }
        }
    }
}
