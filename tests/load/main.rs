//! Loads on a shaft: against closed forms.

mod conveyor;
mod conveyor_gate;
mod end_stop;
mod gate;
mod hoist;
mod parts;
mod pump;
mod rough;
mod stage_lift;
mod support;
mod worm_gear;
