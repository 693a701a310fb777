//! Circuits against closed forms.

mod first_order;
mod motor_start;
