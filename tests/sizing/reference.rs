//! Reads `tests/reference/`.

pub fn read(name: &str) -> String {
    let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Rows of a comma-separated file below its line of names; `count` guards against a file that lost some.
pub fn csv(name: &str, count: usize) -> Vec<Vec<String>> {
    let text = read(name);
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let rows: Vec<Vec<String>> = lines.map(|line| line.split(',').map(str::to_owned).collect()).collect();
    assert_eq!(rows.len(), count, "{name}");
    rows
}
