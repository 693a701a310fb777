//! A report before it is rendered.

/// One piece of a report.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// A list.
    List(Vec<String>),
    /// A table.
    Table(Table),
}

/// A table of texts.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Heads of the columns.
    pub heads: Vec<String>,
    /// Rows, each as long as the heads.
    pub rows: Vec<Vec<String>>,
}

/// A report: rendered by [`to_text`](Document::to_text), [`to_markdown`](Document::to_markdown) and
/// [`to_html`](Document::to_html).
///
/// # Example
/// ```
/// use stallpoint::report::Document;
///
/// let mut report = Document::new("Start of the winch");
/// report.heading("Verdict");
/// report.paragraph("It starts.");
/// assert!(report.to_markdown().starts_with("# Start of the winch\n\n## Verdict\n\nIt starts.\n"));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Its title.
    pub title: String,
    /// What follows.
    pub blocks: Vec<Block>,
}

impl Document {
    /// A report with a title and nothing else yet.
    pub fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), blocks: Vec::new() }
    }

    /// Adds a heading.
    pub fn heading(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Heading(text.into()));
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// Adds a list.
    pub fn list(&mut self, entries: impl IntoIterator<Item = impl Into<String>>) {
        self.blocks.push(Block::List(entries.into_iter().map(Into::into).collect()));
    }

    /// Adds a table.
    pub fn table<H: Into<String>>(&mut self, heads: impl IntoIterator<Item = H>, rows: Vec<Vec<String>>) {
        self.blocks.push(Block::Table(Table { heads: heads.into_iter().map(Into::into).collect(), rows }));
    }
}
