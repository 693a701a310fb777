//! Parts between the battery and the contactor: against closed forms and published rows.

mod battery;
mod battery_cut_off;
mod battery_faults;
mod battery_ratings;
mod breaker;
mod breaker_reset;
mod cable;
mod cable_heat;
mod cable_sanity;
mod instruments;
mod inverse_time;
mod joint;
mod joint_film;
mod joint_heat;
mod joint_spot;
mod loaded_loop;
mod loose_joint;
mod measured_discharges;
mod support;
mod switch;
mod trip_band;
mod weak_arc;
