//! Nuisance trips of a warm breaker or fuse, and of repeated jogs.

use crate::drive::Drive;
use crate::report::Check;
use crate::studies::sizing::trips::Reached;
use crate::studies::surge::Facts;
use crate::studies::surge::checks::judge_trip;

pub(super) fn checks(drive: &Drive, facts: &Facts, trips: &[Reached; 2]) -> Vec<Check> {
    let device = drive.protection().name();
    let mut all = Vec::new();
    for (direction, reached) in facts.directions.iter().zip(trips) {
        let basis = "fast edge of the trip band, from what a start and the running current left in it";
        let when = format!("started again {} right after a run", direction.direction);
        all.push(
            judge_trip(&reached.warm, &format!("No nuisance trip of a warm {device}"), basis, when)
                .keyed("nuisance_trip_warm"),
        );
        let basis = "fast edge of the trip band, accumulated over the jogs and cooling in the pauses";
        let when = format!("repeated jogs {}", direction.direction);
        all.push(
            judge_trip(&reached.jogs, "No nuisance trip by repeated jogs", basis, when).keyed("nuisance_trip_jogs"),
        );
    }
    all
}
