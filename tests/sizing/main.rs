//! Sizing: requirements, corners, search.

mod adiabatic;
mod boat_table;
mod bounds;
mod catalogue;
mod circuit_requirements;
mod corners;
mod cut_off;
mod fuses;
mod hair;
mod interrupting;
mod monte_carlo;
mod own_requirement;
mod rating_requirements;
mod reference;
mod search;
mod stale_data;
mod support;
mod trips;
mod waveform;
mod weld;
mod yes_or_no;
