//! The reversing drive: thresholds against closed forms, the corroded ground, common practice, files, bad input, repeatability.

mod bad_input;
mod common_practice;
mod corroded_ground;
mod file;
mod joint_burns;
mod kirchhoff;
mod support;
mod surge_figures;
mod swaps;
mod threshold;
