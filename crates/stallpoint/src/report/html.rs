//! A report as one self-contained HTML page.

use super::document::{Align, Block, Document};

const STYLE: &str = "body{font:15px/1.45 system-ui,sans-serif;max-width:70em;margin:2em auto;padding:0 1em}\
table{border-collapse:collapse;margin:1em 0;display:block;max-width:100%;overflow-x:auto}th,td{padding:.25em .8em;text-align:left;vertical-align:top;\
border-bottom:1px solid #ccc}.n{text-align:right;white-space:nowrap}figure{margin:1.5em 0;max-width:60em}\
svg{width:100%;height:auto}figcaption{color:#333}h2{margin-top:1.8em}@media print{body{margin:0;max-width:none;\
font-size:11px}tr,figure{break-inside:avoid}h2,h3{break-after:avoid}thead{display:table-header-group}}";

impl Document {
    /// As a page that needs nothing else.
    pub fn to_html(&self) -> String {
        let title = self.blocks.iter().find_map(|block| match block {
            Block::Heading(1, text) => Some(escape(text)),
            _ => None,
        });
        let head =
            format!("<meta charset=\"utf-8\"><title>{}</title><style>{STYLE}</style>", title.unwrap_or_default());
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\"><head>{head}</head>\n<body>\n{}</body></html>\n",
            self.to_html_body()
        )
    }

    /// Only what stands in the page's body, to put into another.
    pub fn to_html_body(&self) -> String {
        self.blocks.iter().map(block).collect()
    }
}

fn block(block: &Block) -> String {
    match block {
        Block::Heading(level, text) => format!("<h{level}>{}</h{level}>\n", escape(text)),
        Block::Paragraph(text) => format!("<p>{}</p>\n", escape(text)),
        Block::List { numbered, items } => {
            let tag = if *numbered { "ol" } else { "ul" };
            let items: String = items.iter().map(|item| format!("<li>{}</li>\n", escape(item))).collect();
            format!("<{tag}>\n{items}</{tag}>\n")
        }
        Block::Picture { svg, caption } => {
            format!("<figure>\n{svg}<figcaption>{}</figcaption></figure>\n", escape(caption))
        }
        Block::Table(table) => {
            let cell = |tag: &str, text: &str, align: Align| {
                let class = if align == Align::Right { " class=\"n\"" } else { "" };
                format!("<{tag}{class}>{}</{tag}>", escape(text))
            };
            let heads: String = table.columns.iter().map(|(name, align)| cell("th", name, *align)).collect();
            let row = |row: &Vec<String>| -> String {
                let cells = row.iter().zip(&table.columns).map(|(text, (_, align))| cell("td", text, *align));
                format!("<tr>{}</tr>\n", cells.collect::<String>())
            };
            let rows: String = table.rows.iter().map(row).collect();
            format!("<table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n")
        }
    }
}

pub(super) fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_text_is_escaped() {
        let mut report = Document::default();
        report.heading(1, "A & B");
        report.paragraph("<script>");
        let page = report.to_html();
        assert!(page.contains("<title>A &amp; B</title>") && page.contains("<p>&lt;script&gt;</p>"), "{page}");
    }
}
