//! A sweep's table as comma-separated values.

use super::table::SweepTable;

impl SweepTable {
    /// The table as comma-separated values: a column for each key of each axis, one for each measure, one for the reason
    /// of a failure; units in brackets in the heading. Numbers read back to the same bits; a missing one is empty.
    ///
    /// Source: quoting and line ends after RFC 4180.
    pub fn to_csv(&self) -> String {
        let keys = self.axes.iter().flat_map(|axis| &axis.keys).map(|key| heading(&key.key, &key.unit));
        let measures = self.columns.iter().map(|column| heading(&column.name, &column.unit));
        let mut text = line(keys.chain(measures).chain(["failure".to_string()]));
        for (row, failure) in self.failures.iter().enumerate() {
            let places = self.places(row);
            let keys = self.axes.iter().zip(&places);
            let keys = keys.flat_map(|(axis, &place)| axis.keys.iter().map(move |key| key.coordinates.text(place)));
            let measures = self.columns.iter().map(|column| column.kind.text(column.values[row]));
            text += &line(keys.chain(measures).chain([failure.clone().unwrap_or_default()]));
        }
        text
    }
}

fn heading(name: &str, unit: &str) -> String {
    if unit.is_empty() { name.into() } else { format!("{name} [{unit}]") }
}

fn line(fields: impl Iterator<Item = String>) -> String {
    fields.map(quoted).collect::<Vec<_>>().join(",") + "\r\n"
}

fn quoted(field: String) -> String {
    if field.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", field.replace('"', "\"\"")) } else { field }
}
