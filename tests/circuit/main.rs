//! Circuits against closed forms, published values and Kirchhoff's laws.

mod amplifier;
mod build;
mod conformance;
mod crossing;
mod endings;
mod energy;
mod first_order;
mod inductors;
mod kirchhoff;
mod ladder;
mod linear_motor;
mod motor_curves;
mod motor_examples;
mod motor_start;
mod operating;
mod plugging;
mod properties;
mod rectifier;
mod restart;
mod switching_parts;
mod topology;
mod user_parts;
