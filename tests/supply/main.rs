//! Parts between the battery and the contactor: against closed forms and published rows.

mod battery;
mod cable;
mod joint;
mod support;
