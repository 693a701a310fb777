use super::support::*;
use stallpoint::studies::sizing::*;
use std::time::Instant;
#[test]
fn probe() {
    let d = with(&[("limits.longest_hold", "15 s")]);
    let t = Instant::now();
    let a = assess(&d, &SizingOptions::default()).unwrap();
    println!("{:?}", t.elapsed());
    for c in a.worst() {
        println!(
            "{:12} {:24} {:?} {:?} {:?} | {} | {}",
            c.verdict.to_string(),
            c.key,
            c.value,
            c.limit,
            c.margin,
            c.basis,
            c.when
        );
    }
    let t = Instant::now();
    let o = size(
        &d,
        &[
            Choice::list("supply_cable.cross_section", ["16 mm2", "25 mm2", "2 AWG", "50 mm2"]),
            Choice::list("breaker.rated_current", [60, 80, 100]),
        ],
    )
    .unwrap();
    println!("{:?} {}", t.elapsed(), o.summary());
    for c in &o.candidates {
        println!("{:?} {} {:?} {:?}", c.names, c.state, c.margin, c.reasons());
    }
}
