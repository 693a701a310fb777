//! A report as plain text.

use super::document::{Align, Block, Document, Table};

/// Longest line of tables, and of running text, which is harder to read when long.
const WIDTH: usize = 120;
const MEASURE: usize = 100;
/// Units that stay with their numbers.
const UNITS: [&str; 14] = ["V", "A", "Ω", "s", "W", "J", "H", "F", "%", "m", "m2", "°C", "min", "N·m"];
/// Between two columns.
const GAP: &str = "  ";

impl Document {
    /// As plain text with lines of at most 120 columns (unless a table's words do not fit).
    pub fn to_text(&self) -> String {
        let mut out = String::new();
        for block in &self.blocks {
            if !out.is_empty() {
                out.push('\n');
            }
            match block {
                Block::Heading(level, text) => {
                    let rule = if *level == 1 { "=" } else { "-" };
                    line(&mut out, text);
                    line(&mut out, &rule.repeat(width(text)));
                }
                Block::Paragraph(text) => {
                    for words in wrap(text, MEASURE) {
                        line(&mut out, &words);
                    }
                }
                Block::List { numbered, items } => {
                    for (k, item) in items.iter().enumerate() {
                        let mark = if *numbered { format!("{}.", k + 1) } else { "-".into() };
                        let indent = width(&mark) + 1;
                        for (k, words) in wrap(item, MEASURE - indent).iter().enumerate() {
                            let first = if k == 0 { mark.as_str() } else { "" };
                            line(&mut out, &format!("{first:indent$}{words}"));
                        }
                    }
                }
                Block::Picture { caption, .. } => {
                    for words in wrap(&format!("[Picture, in the HTML report: {caption}]"), MEASURE) {
                        line(&mut out, &words);
                    }
                }
                Block::Table(table) => set(table, &mut out),
            }
        }
        out
    }
}

fn set(table: &Table, out: &mut String) {
    let widths = widths(table);
    let heads: Vec<String> = table.columns.iter().map(|(name, _)| name.clone()).collect();
    set_row(table, &heads, &widths, out);
    let rules: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
    line(out, &rules.join(GAP));
    for row in &table.rows {
        set_row(table, row, &widths, out);
    }
}

/// One row, over as many lines as its longest cell needs.
fn set_row(table: &Table, row: &[String], widths: &[usize], out: &mut String) {
    let cells: Vec<Vec<String>> = row.iter().zip(widths).map(|(cell, width)| wrap(cell, *width)).collect();
    for k in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
        let set: Vec<String> = (cells.iter().zip(widths).zip(&table.columns))
            .map(|((cell, width), (_, align))| {
                let words = cell.get(k).map_or("", String::as_str);
                match align {
                    Align::Left => format!("{words:<width$}"),
                    Align::Right => format!("{words:>width$}"),
                }
            })
            .collect();
        line(out, &set.join(GAP));
    }
}

/// Widths of the columns: as wide as their cells, then the widest of them narrower until all fit, no word broken.
fn widths(table: &Table) -> Vec<usize> {
    let column = |k: usize| {
        let cells = table.rows.iter().filter_map(move |row| row.get(k));
        std::iter::once(&table.columns[k].0).chain(cells)
    };
    let count = table.columns.len();
    let mut widths: Vec<usize> = (0..count).map(|k| column(k).map(|cell| width(cell)).max().unwrap_or(0)).collect();
    let word = |cell: &String| words(cell).iter().map(|word| width(word)).max().unwrap_or(0);
    let least: Vec<usize> = (0..count).map(|k| column(k).map(word).max().unwrap_or(0)).collect();
    while widths.iter().sum::<usize>() + GAP.len() * count.saturating_sub(1) > WIDTH {
        let Some(widest) = (0..count).filter(|&k| widths[k] > least[k]).max_by_key(|&k| widths[k]) else { break };
        widths[widest] -= 1;
    }
    widths
}

/// Breaks a text between words.
fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words(text) {
        let last = lines.len() - 1;
        let line = &mut lines[last];
        if line.is_empty() {
            line.push_str(&word);
        } else if width(line) + 1 + width(&word) <= columns {
            line.push(' ');
            line.push_str(&word);
        } else {
            lines.push(word);
        }
    }
    lines
}

/// The words of a text, a number and its unit as one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ') {
        let unit = word.trim_end_matches([',', '.', ';', ':', ')', ']']);
        let bare = unit.strip_prefix(['µ', 'n', 'm', 'k', 'M']).unwrap_or(unit);
        let follows = words.last().is_some_and(|last| last.ends_with(|c: char| c.is_ascii_digit()));
        match words.last_mut() {
            Some(last) if follows && (UNITS.contains(&bare) || UNITS.contains(&unit)) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.into()),
        }
    }
    words
}

/// Characters of a text: all that reports use are one column wide.
fn width(text: &str) -> usize {
    text.chars().count()
}

fn line(out: &mut String, text: &str) {
    out.push_str(text.trim_end());
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_a_wide_table_wraps_its_words() {
        let mut table = Table::new(1, ["what", "A"]);
        table.row(["word ".repeat(40).trim(), "1"]);
        let mut report = Document::default();
        report.table(table);
        let text = report.to_text();
        assert!(text.lines().all(|line| width(line) <= WIDTH), "{text}");
        assert_eq!(text.matches("word").count(), 40);
    }
}
