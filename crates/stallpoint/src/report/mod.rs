//! Checks and tables, and how they read as text, Markdown and HTML.

mod check;

pub use check::{Check, Side, Verdict};
