//! Checks and tables, and how they read as text, Markdown and HTML.

mod check;
mod document;
mod html;
mod markdown;
mod text;
mod value;

pub use check::{Check, Side, Verdict};
pub use document::{Block, Document, Table};
pub use value::with_unit;
