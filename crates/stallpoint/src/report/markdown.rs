//! A report as Markdown.

use super::document::{Block, Document, Table};

impl Document {
    /// The report as Markdown.
    pub fn to_markdown(&self) -> String {
        let mut out = format!("# {}\n", self.title);
        for block in &self.blocks {
            out.push('\n');
            out += &match block {
                Block::Heading(text) => format!("## {text}\n"),
                Block::Paragraph(text) => format!("{text}\n"),
                Block::List(entries) => entries.iter().map(|entry| format!("- {entry}\n")).collect(),
                Block::Table(table) => rows(table),
            };
        }
        out
    }
}

fn rows(table: &Table) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| cell.replace('|', "\\|")).collect();
        format!("| {} |\n", cells.join(" | "))
    };
    let rule: Vec<String> = table.heads.iter().map(|_| "---".to_string()).collect();
    line(&table.heads) + &line(&rule) + &table.rows.iter().map(|row| line(row)).collect::<String>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_bars_in_cells_are_escaped() {
        let mut report = Document::new("R");
        report.table(["a"], vec![vec!["x | y".into()]]);
        assert_eq!(report.to_markdown(), "# R\n\n| a |\n| --- |\n| x \\| y |\n");
    }
}
