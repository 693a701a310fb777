//! Benchmarks: one target, one module for each matter. `cargo bench` prints divan's table and then a report that sets
//! time against measured error.

mod measure;
#[allow(dead_code, unused_imports, reason = "the tests share this module and use more of it")]
mod p1;

fn main() {
    divan::main();
    // Also without `--bench`, where divan runs everything once: the report is a check of the whole.
    if !std::env::args().any(|argument| argument == "--list") {
        measure::report::print();
    }
}
