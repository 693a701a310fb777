//! Breakers and fuses: against closed forms and the gates of their standards.

mod arc;
mod cycling;
mod derating;
mod fast_source;
mod fuse;
mod fuse_gates;
mod fused_drive;
mod gates;
mod magnetic;
mod miniature;
mod modified;
mod prepared;
mod study;
mod support;
mod thermal;
