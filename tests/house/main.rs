//! The invariants of DEVELOPERS.md that a reading of the sources can keep.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder with this ending.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if entry.extension().is_some_and(|own| own == ending) {
                found.push(entry);
            }
        }
    }
    assert!(!found.is_empty(), "{folder}");
    found
}

#[test]
fn regress_the_solver_has_no_electrical_word() {
    // "current" also means "present", and is left alone.
    let words = [
        "volt",
        "ampere",
        "ohm",
        "resistor",
        "inductor",
        "capacitor",
        "battery",
        "circuit",
        "motor",
        "diode",
        "contactor",
    ];
    for path in files("crates/stallpoint-solve/src", "rs") {
        let text = fs::read_to_string(&path).unwrap().to_lowercase();
        for line in text.lines().filter(|line| !line.contains("semiconductor") && !line.contains("silicon devices")) {
            for word in words {
                let found =
                    line.split(|c: char| !c.is_alphanumeric()).any(|own| own == word || own == format!("{word}s"));
                assert!(!found, "{}: {line}", path.display());
            }
        }
    }
}

#[test]
fn regress_the_library_has_no_python_and_the_bindings_no_physics() {
    for folder in ["crates/stallpoint", "crates/stallpoint-solve"] {
        let manifest = fs::read_to_string(root().join(folder).join("Cargo.toml")).unwrap();
        assert!(!manifest.contains("pyo3"), "{folder}");
    }
    for path in files("crates/stallpoint-py/src", "rs") {
        let text = fs::read_to_string(&path).unwrap();
        for call in [".exp()", ".ln()", ".sin()", ".cos()", ".sqrt()", ".tanh()", ".powf("] {
            assert!(!text.contains(call), "{}: {call}", path.display());
        }
    }
}

#[test]
fn regress_no_god_file() {
    let all = ["crates", "tests", "benches"].iter().flat_map(|folder| files(folder, "rs"));
    for path in all.chain(files("python/src", "py")).chain(files("python/tests", "py")) {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 700, "{}: {lines} lines", path.display());
    }
}

#[test]
fn regress_every_reference_is_listed_with_its_source() {
    let list = fs::read_to_string(root().join("tests/reference/README.md")).unwrap();
    for entry in fs::read_dir(root().join("tests/reference")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(name == "README.md" || list.contains(&name), "{name} is not in tests/reference/README.md");
    }
}
