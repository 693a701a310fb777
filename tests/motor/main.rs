//! Motors against closed forms, printed examples and measurements.

mod bare;
mod braking;
mod build;
mod compound;
mod conformance;
mod data_sheet;
mod drives;
mod faults;
mod heating;
mod inrush;
mod locked_rotor;
mod other_parts;
mod series;
mod shunt;
mod swaps;
