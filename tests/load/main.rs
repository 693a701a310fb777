//! Loads on a shaft: against closed forms.

mod conveyor;
mod end_stop;
mod hoist;
mod parts;
mod pump;
mod stage_lift;
mod support;
mod worm_gear;
