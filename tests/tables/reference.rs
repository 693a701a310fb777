//! Reads `tests/reference/`.

use std::collections::HashMap;

/// A row by column name.
pub type Row = HashMap<String, String>;

fn read(name: &str) -> String {
    let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// The rows of a comma-separated file; `count` guards against a file that lost some.
pub fn csv(name: &str, count: usize) -> Vec<Row> {
    let text = read(name);
    let mut lines = text.lines().filter(|l| !l.starts_with('#')).map(|l| l.split(',').map(str::to_owned));
    let columns: Vec<String> = lines.next().unwrap().collect();
    let rows: Vec<Row> = lines.map(|cells| columns.iter().cloned().zip(cells).collect()).collect();
    assert_eq!(rows.len(), count, "{name}");
    rows
}

/// A TOML file.
pub fn toml(name: &str) -> toml::Table {
    read(name).parse().unwrap()
}

/// A number of a TOML table, written with or without a point.
pub fn number(table: &toml::Table, key: &str) -> f64 {
    let value = &table[key];
    value.as_float().or_else(|| value.as_integer().map(|i| i as f64)).unwrap_or_else(|| panic!("{key}: {value}"))
}

/// The numbers of a TOML array.
pub fn numbers(table: &toml::Table, key: &str) -> Vec<f64> {
    table[key].as_array().unwrap().iter().map(|v| v.as_float().unwrap()).collect()
}

/// Half a unit of the last digit printed in `text`: all that printing may have rounded away.
pub fn half_digit(text: &str) -> f64 {
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
    0.5 * 10f64.powi(-i32::try_from(decimals).unwrap())
}

/// Asserts that `value` rounds to the printed digits of `text`.
pub fn assert_prints_as(value: f64, text: &str, what: &str) {
    let printed: f64 = text.parse().unwrap();
    // The last bits of the printed number itself are allowed for.
    let limit = half_digit(text) + 4.0 * f64::EPSILON * printed.abs();
    assert!((value - printed).abs() <= limit, "{what}: {value} does not print as {text}");
}
