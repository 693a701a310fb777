//! Checks and tables, and how they read as text, Markdown and HTML.

mod both_ways;
mod check;
mod document;
mod format;
mod html;
mod markdown;
mod requirements;
pub(crate) mod svg;
mod text;

pub(crate) use both_ways::both_ways;
pub use check::{Check, Side, Verdict};
pub use document::{Align, Block, Document, Table};
pub use format::{maybe, number, percent, quantity};
pub(crate) use requirements::{add_requirements, counts};
