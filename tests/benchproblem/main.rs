//! The benchmark problem: the solver against an outside reference, and its work.

#[path = "../../benches/p1/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the benchmarks share this module and use more of it")]
mod p1;

mod allocations;
mod chatter;
mod jacobian;
mod reference;
mod variants;
mod work;
