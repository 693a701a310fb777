//! Developer commands of the stallpoint workspace, standard library only: `cargo xtask` lists them.

mod bench;
mod demo;
mod instructions;
mod python;
mod run;
mod test;

use std::process::ExitCode;

const HELP: &str = "cargo xtask <command>

  demo          simulate the demo drives' starts and write reports, pictures and waveforms to target/demo/
  test          everything CI checks: format, lints, Rust tests, Python tests, stubs, stories, notebooks
  test rust     only the Rust half of it
  test python   only the Python half of it
  bench         the benchmarks and their report
  bench --peers other solvers on the same problem, where SUNDIALS and SuiteSparse are installed (--short: a quick trial;
                --kernels: the linear kernels alone)
  bench --instructions   instructions of two small runs, where valgrind is installed, against benches/instructions.csv
                (--record: writes it)
  python        make .venv ready with the package built in it";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["demo"] => demo::demo(),
        ["bench"] => bench::bench(),
        ["bench", "--peers"] => bench::peers(&[]),
        ["bench", "--peers", "--short"] => bench::peers(&["--", "--short"]),
        ["bench", "--peers", "--kernels"] => bench::peers(&["--", "--kernels"]),
        ["bench", "--peers", "--kernels", "--short"] => bench::peers(&["--", "--kernels", "--short"]),
        ["bench", "--instructions"] => instructions::count(false),
        ["bench", "--instructions", "--record"] => instructions::count(true),
        ["test"] => test::rust().and_then(|()| test::python()),
        ["test", "rust"] => test::rust(),
        ["test", "python"] => test::python(),
        ["python"] => python::ready().map(|_| ()),
        _ => {
            println!("{HELP}");
            return ExitCode::from(u8::from(!words.is_empty()) * 2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("xtask: {problem}");
            ExitCode::FAILURE
        }
    }
}
