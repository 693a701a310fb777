//! Benchmarks: one target, one module for each matter. `cargo bench` prints divan's table and then a report that sets
//! time against measured error.

mod harness;
mod measure;
#[allow(dead_code, unused_imports, reason = "the tests share this module and use more of it")]
mod p1;
mod sizing;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    // `cargo bench -- sizing-search`: the whole search of the boat lift, a matter of minutes.
    if arguments.iter().any(|argument| argument == "sizing-search") {
        sizing::print();
        return;
    }
    // `cargo bench -- robustness`: 5,000 runs, half a minute.
    if arguments.iter().any(|argument| argument == "robustness") {
        measure::robustness::print();
        return;
    }
    // `cargo bench -- throughput`: starts a second, half a minute.
    if arguments.iter().any(|argument| argument == "throughput") {
        measure::throughput::print();
        return;
    }
    // `cargo bench -- harness`: motors on a harness of up to 100,000 unknowns, a minute.
    if arguments.iter().any(|argument| argument == "harness") {
        harness::print();
        return;
    }
    if measure::single::asked(&arguments) {
        return;
    }
    divan::main();
    // Also without `--bench`, where divan runs everything once: the report is a check of the whole.
    if !arguments.iter().any(|argument| argument == "--list") {
        measure::report::print();
    }
}
