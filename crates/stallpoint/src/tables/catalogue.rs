//! The built-in tables.

use super::error::TableError;
use super::loader::Table;
use std::sync::LazyLock;

macro_rules! files {
    ($($name:literal),* $(,)?) => { &[$(($name, include_str!(concat!("data/", $name, ".csv")))),*] };
}

const FILES: &[(&str, &str)] = files![
    "conductor_materials",
    "iec60228",
    "adiabatic_k",
    "adiabatic_constants",
    "trailing_cable",
    "inverse_time",
    "miniature_breaker_gates",
    "breaker_calibration",
    "fuse_gates",
    "fuse_typicals",
    "ocv_flooded_lead_acid",
    "ocv_agm_lead_acid",
    "ocv_lithium_iron_phosphate",
    "freezing_flooded",
    "cranking_tests",
];

static TABLES: LazyLock<Vec<Table>> =
    LazyLock::new(|| FILES.iter().map(|(name, text)| built_in(Table::parse(name, text))).collect());

/// Every built-in table, with its source and status.
///
/// ```
/// for table in stallpoint::tables::all() {
///     println!("{}: {} ({})", table.name(), table.source(), table.status_text());
/// }
/// ```
pub fn all() -> &'static [Table] {
    &TABLES
}

/// All rows of a built-in table, read by `read`.
pub(super) fn rows<T>(name: &str, read: impl Fn(&Table, usize) -> Result<T, TableError>) -> Vec<T> {
    built_in(table(name).each(read))
}

/// A built-in table by name.
pub(super) fn table(name: &str) -> &'static Table {
    let found = TABLES.iter().find(|t| t.name() == name);
    // Invariant: names are literals in this module's siblings, and the tests read every one.
    found.unwrap_or_else(|| panic!("no built-in table \"{name}\""))
}

/// Invariant: the text is compiled in and the tests load all of it, so an error here cannot reach a user.
pub(super) fn built_in<T>(loaded: Result<T, TableError>) -> T {
    loaded.unwrap_or_else(|error| panic!("{error}"))
}
