//! Developer commands of the stallpoint workspace.
fn main() {}
