//! A report as one HTML page that needs nothing else.

use super::document::{Block, Document, Table};

const STYLE: &str = "body{font-family:sans-serif;max-width:70em;margin:2em auto;padding:0 1em;line-height:1.4}\
table{border-collapse:collapse;margin:1em 0}th,td{border:1px solid #999;padding:.2em .6em;text-align:left}\
th{background:#eee}@media print{body{margin:0}}";

impl Document {
    /// The report as one HTML page. It loads nothing when opened.
    pub fn to_html(&self) -> String {
        let title = escaped(&self.title);
        let body = self.body_html();
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>{title}</title><style>{STYLE}</style></head>\n<body>\n{body}</body>\n</html>\n"
        )
    }

    /// The report's body alone, to put into another page.
    pub fn body_html(&self) -> String {
        let mut out = format!("<h1>{}</h1>\n", escaped(&self.title));
        for block in &self.blocks {
            out += &match block {
                Block::Heading(text) => format!("<h2>{}</h2>\n", escaped(text)),
                Block::Paragraph(text) => format!("<p>{}</p>\n", escaped(text)),
                Block::List(entries) => {
                    let entries: String = entries.iter().map(|entry| format!("<li>{}</li>", escaped(entry))).collect();
                    format!("<ul>{entries}</ul>\n")
                }
                Block::Table(table) => rows(table),
            };
        }
        out
    }
}

fn rows(table: &Table) -> String {
    let line = |cells: &[String], tag: &str| {
        let cells: String = cells.iter().map(|cell| format!("<{tag}>{}</{tag}>", escaped(cell))).collect();
        format!("<tr>{cells}</tr>\n")
    };
    let body: String = table.rows.iter().map(|row| line(row, "td")).collect();
    format!("<table>\n{}{body}</table>\n", line(&table.heads, "th"))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_text_is_escaped() {
        let mut report = Document::new("a < b");
        report.paragraph("\"x\" & y");
        assert_eq!(report.body_html(), "<h1>a &lt; b</h1>\n<p>&quot;x&quot; &amp; y</p>\n");
        assert!(!report.to_html().contains("http"));
    }
}
