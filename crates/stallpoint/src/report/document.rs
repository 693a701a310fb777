//! A report before it is written out: headings, paragraphs, lists, tables.

/// How a column is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Heading and setting of each column.
    pub columns: Vec<(String, Align)>,
    /// Cells, row after row.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// An empty table whose first `words` columns hold words and the others numbers.
    pub fn new<S: Into<String>>(words: usize, columns: impl IntoIterator<Item = S>) -> Self {
        let align = |k: usize| if k < words { Align::Left } else { Align::Right };
        let columns = columns.into_iter().enumerate().map(|(k, name)| (name.into(), align(k))).collect();
        Self { columns, rows: Vec::new() }
    }

    /// Adds a row; missing cells stay empty, cells beyond the last column are dropped.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        let mut cells: Vec<String> = cells.into_iter().map(Into::into).collect();
        cells.resize(self.columns.len(), String::new());
        self.rows.push(cells);
    }
}

/// A piece of a report.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Heading of a level, 1 the title.
    Heading(u8, String),
    /// Running text.
    Paragraph(String),
    /// Items of a list, numbered or not.
    List {
        /// Whether the items are numbered from 1.
        numbered: bool,
        /// The items.
        items: Vec<String>,
    },
    /// A table.
    Table(Table),
    /// A picture; only a page shows it, text and Markdown name it.
    Picture {
        /// The picture as SVG.
        svg: String,
        /// What it shows, in a sentence.
        caption: String,
    },
}

/// A report before it is written out as text, Markdown or HTML.
///
/// # Example
/// ```
/// use stallpoint::report::{Document, Table};
///
/// let mut report = Document::default();
/// report.heading(1, "Currents");
/// let mut table = Table::new(1, ["part", "A"]);
/// table.row(["motor", "161"]);
/// report.table(table);
/// assert!(report.to_text().contains("motor  161"));
/// assert!(report.to_markdown().contains("| motor | 161 |"));
/// assert!(report.to_html().contains("<td>motor</td>"));
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Document {
    /// Its pieces in order.
    pub blocks: Vec<Block>,
}

impl Document {
    /// Adds a heading.
    pub fn heading(&mut self, level: u8, text: impl Into<String>) {
        self.blocks.push(Block::Heading(level, text.into()));
    }

    /// Adds running text.
    pub fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// Adds a list.
    pub fn list<S: Into<String>>(&mut self, items: impl IntoIterator<Item = S>) {
        let items = items.into_iter().map(Into::into).collect();
        self.blocks.push(Block::List { numbered: false, items });
    }

    /// Adds a numbered list.
    pub fn numbered<S: Into<String>>(&mut self, items: impl IntoIterator<Item = S>) {
        let items = items.into_iter().map(Into::into).collect();
        self.blocks.push(Block::List { numbered: true, items });
    }

    /// Adds a picture.
    pub(crate) fn picture(&mut self, svg: String, caption: impl Into<String>) {
        self.blocks.push(Block::Picture { svg, caption: caption.into() });
    }

    /// Adds a table.
    pub fn table(&mut self, table: Table) {
        self.blocks.push(Block::Table(table));
    }
}
