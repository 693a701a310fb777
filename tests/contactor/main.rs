//! Coils and reversing contactors: closed forms, published rows, sequences of events.

mod coil_decay;
mod coil_rise;
mod cut_coil;
mod data_sheet;
mod detailed;
mod drive;
mod energy;
mod faults;
mod fidelities;
mod hold;
mod hot_coil;
mod ideal_switch;
mod kick;
mod measured_solenoid;
mod phenomena;
mod plugging;
mod printed_ranges;
mod release_ratio;
mod rest_position;
mod sequence;
