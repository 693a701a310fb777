//! Scores the fault finder on the demo drives and times it: the figures of `studies/faultfinding/score.md`.

use std::sync::Arc;
use std::time::Instant;

use stallpoint::circuit::Flow;
use stallpoint::drive::{BOAT_LIFT, CONVEYOR_GATE, Drive, STAGE_LIFT};
use stallpoint::studies::faultfinding::{
    FaultFinder, FaultTable, Held, Measurement, Observed, Order, ScoreOptions, TableOptions, Tool, score,
};

fn main() -> Result<(), stallpoint::Error> {
    println!(
        "| drive | order | cases | left out | first | top three | measurements | minutes | group mean / largest |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    let mut tables = Vec::new();
    for text in [BOAT_LIFT, STAGE_LIFT, CONVEYOR_GATE] {
        let drive = Drive::from_toml_str(text)?;
        let begun = Instant::now();
        let table = Arc::new(FaultTable::build(&drive, &TableOptions::default(), &mut |_| Flow::Continue)?);
        let built = begun.elapsed();
        let mut finder = FaultFinder::on(table.clone());
        let drop = Measurement::between(Tool::Voltmeter, Held::Forward, "ground_stud", "ground_stud_lug");
        finder.observe(&drop, &Observed::Number(3.0))?;
        let begun = Instant::now();
        for _ in 0..1000 {
            finder.observe(&drop, &Observed::Number(3.0))?;
        }
        let each = begun.elapsed().as_secs_f64() / 1000.0;
        eprintln!(
            "{}: {} cases built in {:.1} s; {:.0} observations/s",
            drive.name,
            table.len(),
            built.as_secs_f64(),
            1.0 / each
        );
        tables.push(table);
    }
    for order in [Order::Finder, Order::CommonPractice, Order::TopDown, Order::Random] {
        for table in &tables {
            let s = score(table, &ScoreOptions { order, ..ScoreOptions::default() })?;
            let counted = (s.cases - s.left_out) as f64;
            println!(
                "| {} | {order:?} | {} | {:.1} % | {:.1} % | {:.1} % | {:.1} | {:.1} | {:.2} / {} |",
                table.drive().name,
                s.cases,
                100.0 * s.left_out as f64 / s.cases as f64,
                100.0 * s.first as f64 / counted,
                100.0 * s.top_three as f64 / counted,
                s.measurements,
                s.minutes,
                s.group_mean,
                s.group_largest
            );
            if order == Order::Finder {
                eprintln!("missed: {:?}", s.missed);
                eprintln!("unsolved: {:?}", s.unsolved);
                let quick: Vec<&str> = s.quick.iter().map(|(fault, _)| fault.as_str()).collect();
                eprintln!("in quick fidelity: {quick:?}");
            }
        }
    }
    Ok(())
}
