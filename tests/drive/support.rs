//! What the tests of the drive share.

use stallpoint::Run;
use stallpoint::drive::{BOAT_LIFT, Direction, Drive, Start, StartOptions};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

/// The variant whose coils return to the ground stud.
pub fn ground_return() -> Drive {
    boat_lift().with_values([("control.coil_return", "ground_stud")]).unwrap()
}

pub fn start(drive: &Drive, direction: Direction, hold: f64) -> Start {
    drive.start(direction, &StartOptions::hold(hold).unwrap()).unwrap()
}

pub fn events<'r>(run: &'r Run, part: &str, word: &str) -> Vec<&'r stallpoint::Event> {
    run.events.iter().filter(|event| event.part == part && event.what.contains(word)).collect()
}
