//! Peers in Python: `python/peers.py` runs them, their samples are judged here.

use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::p1::{Reference, Variant, difference, options, rest, run_from};
use crate::report::{Row, unit};
use crate::transient::Result;

/// One set of a Python peer.
pub struct Line {
    name: String,
    core_loss: f64,
    rtol: f64,
    seconds: f64,
    arcs: u32,
    error: f64,
    failure: String,
}

impl Line {
    /// Its point of the picture, if it has one.
    pub fn row(&self) -> Option<Row> {
        let drawn = self.error.is_finite();
        drawn.then(|| Row { name: self.name.clone(), error: self.error, seconds: self.seconds })
    }
}

/// P1c with a conductance across the coil, by our own method at rtol 1e-9: the only reference that there is for it.
fn own_reference(core_loss: f64) -> std::result::Result<Reference, String> {
    if core_loss == 0.0 {
        return Ok(Reference::p1c());
    }
    let start = rest(Variant { core_loss, ..Variant::P1C }).map_err(|error| error.to_string())?;
    let run = run_from(&start, &options(1e-9), false).map_err(|error| error.to_string())?;
    Ok(Reference { rows: run.samples.rows, events: run.events })
}

/// Runs the script with the Python that `PEERS_PYTHON` names; without it there are no lines.
pub fn measure(rounds: usize) -> Vec<Line> {
    let Ok(python) = std::env::var("PEERS_PYTHON") else {
        eprintln!("PEERS_PYTHON is not set: no Python peers");
        return Vec::new();
    };
    let folder = std::env::temp_dir().join(format!("stallpoint-peers-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for temporary files");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("python/peers.py");
    eprintln!("measuring the Python peers");
    let mut command = Command::new(python);
    command.arg(script).arg(&folder).arg(rounds.to_string()).stderr(Stdio::null());
    let text = command.output().map(|output| String::from_utf8_lossy(&output.stdout).into_owned()).unwrap_or_default();
    let lines = text.lines().filter_map(|line| judge(&folder, line)).collect();
    let _ = std::fs::remove_dir_all(folder);
    lines
}

fn judge(folder: &Path, line: &str) -> Option<Line> {
    let fields: Vec<&str> = line.split('\t').collect();
    let [name, core_loss, rtol, seconds, arcs, file, failure] = fields[..] else { return None };
    let core_loss = core_loss.parse().ok()?;
    let mut error = f64::INFINITY;
    if failure.is_empty() {
        let reference = own_reference(core_loss).ok()?;
        let bytes = std::fs::read(folder.join(file)).ok()?;
        let numbers: Vec<f64> =
            bytes.chunks_exact(8).map(|b| f64::from_le_bytes(b.try_into().expect("eight"))).collect();
        let rows: Vec<[f64; 4]> = numbers.chunks_exact(4).map(|row| row.try_into().expect("four")).collect();
        if rows.len() == reference.rows.len() {
            error = difference(&rows, &reference.rows, &reference.events).max;
        }
    }
    let (rtol, seconds, arcs) = (rtol.parse().ok()?, seconds.parse().ok()?, arcs.parse().ok()?);
    Some(Line { name: name.to_owned(), core_loss, rtol, seconds, arcs, error, failure: failure.to_owned() })
}

/// The table.
pub fn report(lines: &[Line], result: &Result, rounds: usize) -> String {
    if lines.is_empty() {
        return "Not measured: no Python with their packages was named.\n".to_owned();
    }
    let mut out = format!(
        "Median of {rounds} runs of each, by turns among themselves, after the others. Few option sets, no search. SciPy \
         integrates the eight states alone, which P1c's cutset of inductors does not allow: it is given 1 mS across the coil \
         and held against this library's run of that at rtol 1e-9.\n\n| solver | rtol | error max | ms | of ours at 1e-4 | \
         arcs | |\n|{}\n",
        " --- |".repeat(7)
    );
    for line in lines {
        let (error, time, ratio) = match line.error.is_finite() {
            true => (
                format!("{:.1e}", line.error),
                format!("{:.0}", 1e3 * line.seconds),
                format!("{:.0}", line.seconds / unit(result)),
            ),
            false => ("–".to_owned(), "–".to_owned(), "–".to_owned()),
        };
        let with = if line.core_loss > 0.0 { " (with core loss)" } else { "" };
        let _ = writeln!(
            out,
            "| {}{with} | {:.0e} | {error} | {time} | {ratio} | {} | {} |",
            line.name, line.rtol, line.arcs, line.failure
        );
    }
    out
}
