//! A report as Markdown.

use super::document::{Align, Block, Document};

impl Document {
    /// As Markdown with pipe tables.
    pub fn to_markdown(&self) -> String {
        let mut pieces = Vec::new();
        for block in &self.blocks {
            pieces.push(match block {
                Block::Heading(level, text) => format!("{} {}\n", "#".repeat(usize::from(*level)), escape(text)),
                Block::Paragraph(text) => format!("{}\n", escape(text)),
                Block::List { numbered, items } => {
                    let mark = |k: usize| if *numbered { format!("{}.", k + 1) } else { "-".into() };
                    items.iter().enumerate().map(|(k, item)| format!("{} {}\n", mark(k), escape(item))).collect()
                }
                Block::Picture { caption, .. } => format!("*Picture, in the HTML report: {}*\n", escape(caption)),
                Block::Table(table) => {
                    let rule = table.columns.iter().map(|(_, align)| match align {
                        Align::Left => "---".to_string(),
                        Align::Right => "---:".to_string(),
                    });
                    let heads = table.columns.iter().map(|(name, _)| escape(name));
                    let rows = table.rows.iter().map(|row| pipes(row.iter().map(|cell| escape(cell))));
                    [pipes(heads), pipes(rule)].into_iter().chain(rows).collect()
                }
            });
        }
        pieces.join("\n")
    }
}

fn pipes(cells: impl Iterator<Item = String>) -> String {
    format!("| {} |\n", cells.collect::<Vec<_>>().join(" | "))
}

/// Keeps characters that mean something to Markdown from meaning it. Names like `ground_stud` need nothing: an underscore
/// inside a word means nothing.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '|' | '*' | '`' | '[' | ']' | '\\' => out.extend(['\\', c]),
            '<' => out.push_str("&lt;"),
            '&' => out.push_str("&amp;"),
            '\n' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_marks_are_escaped() {
        let mut report = Document::default();
        report.paragraph("a|b <i> *c*");
        assert_eq!(report.to_markdown(), "a\\|b &lt;i> \\*c\\*\n");
    }
}
