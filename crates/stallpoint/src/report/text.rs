//! A report as plain text.

use super::document::{Block, Document, Table};

/// Longest line of a paragraph, in characters.
const WIDTH: usize = 110;
/// Width of a table, in characters, and the width below which no column is narrowed.
const TABLE_WIDTH: usize = 132;
const NARROW: usize = 14;

impl Document {
    /// The report as plain text.
    pub fn to_text(&self) -> String {
        let mut out = underlined(&self.title, '=');
        for block in &self.blocks {
            out.push('\n');
            out += &match block {
                Block::Heading(text) => underlined(text, '-'),
                Block::Paragraph(text) => wrapped(text, "", ""),
                Block::List(entries) => entries.iter().map(|entry| wrapped(entry, "- ", "  ")).collect(),
                Block::Table(table) => columns(table),
            };
        }
        out
    }
}

fn underlined(text: &str, with: char) -> String {
    format!("{text}\n{}\n", with.to_string().repeat(text.chars().count()))
}

/// A text broken into lines; the first begins with `first`, the others with `other`.
fn wrapped(text: &str, first: &str, other: &str) -> String {
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut out = String::new();
    for (k, line) in lines(&words, WIDTH - first.len()).into_iter().enumerate() {
        out += if k == 0 { first } else { other };
        out += &line;
        out.push('\n');
    }
    out
}

/// Columns side by side, numbers to the right; long cells are broken so that the table stays within a page.
fn columns(table: &Table) -> String {
    let longest = |column: usize| {
        let cells = table.rows.iter().map(|row| row[column].chars().count());
        cells.chain([table.heads[column].chars().count()]).max().unwrap_or(0)
    };
    let mut widths: Vec<usize> = (0..table.heads.len()).map(longest).collect();
    // The widest columns give way, but not below what reads well.
    while widths.iter().sum::<usize>() + 2 * widths.len() > TABLE_WIDTH {
        match widths.iter_mut().max() {
            Some(widest) if *widest > NARROW => *widest -= 1,
            _ => break,
        }
    }
    let numeric: Vec<bool> =
        (0..widths.len()).map(|column| table.rows.iter().all(|row| looks_numeric(&row[column]))).collect();
    let row = |cells: &[String]| {
        let broken: Vec<Vec<String>> = cells.iter().zip(&widths).map(|(cell, &width)| lines(cell, width)).collect();
        let height = broken.iter().map(Vec::len).max().unwrap_or(0);
        let mut out = String::new();
        for line in 0..height {
            let padded = broken.iter().zip(&widths).zip(&numeric).map(|((cell, &width), &right)| {
                let cell = cell.get(line).map_or("", String::as_str);
                let space = " ".repeat(width.saturating_sub(cell.chars().count()));
                if right { space + cell } else { cell.to_string() + &space }
            });
            out += padded.collect::<Vec<_>>().join("  ").trim_end();
            out.push('\n');
        }
        out
    };
    let rule: Vec<String> = widths.iter().map(|&width| "-".repeat(width)).collect();
    let mut out = row(&table.heads) + &row(&rule);
    for cells in &table.rows {
        out += &row(cells);
    }
    out
}

/// A text broken between words into lines of at most `width` characters, where its words allow.
fn lines(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.into()),
        }
    }
    lines
}

fn looks_numeric(cell: &str) -> bool {
    cell.is_empty() || cell.starts_with(|c: char| c.is_ascii_digit() || c == '-')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_text_of_a_small_report() {
        let mut report = Document::new("Report");
        report.heading("Part");
        report.list(["one", "two"]);
        report.table(["name", "A"], vec![vec!["motor".into(), "10".into()], vec!["x".into(), "9.5".into()]]);
        let expected =
            "Report\n======\n\nPart\n----\n\n- one\n- two\n\nname     A\n-----  ---\nmotor   10\nx      9.5\n";
        assert_eq!(report.to_text(), expected);
    }

    #[test]
    fn exact_long_paragraphs_are_broken_between_words() {
        let mut report = Document::new("R");
        report.paragraph("word ".repeat(60));
        assert!(report.to_text().lines().all(|line| line.chars().count() <= WIDTH));
        assert_eq!(report.to_text().matches("word").count(), 60);
    }
}
