//! What is measured. A directory, since every file directly in `benches/` would be a bench target of its own.

mod equations;
mod linear;
pub mod report;
pub mod robustness;
pub mod single;
pub mod throughput;
mod transient;
