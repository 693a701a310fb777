//! Sizing: requirements, corners, search.

mod probe;
mod support;
