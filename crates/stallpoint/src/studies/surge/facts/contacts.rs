//! What the contacts made, and their arcs.

use super::Found;
use crate::circuit::{Event, Run, Signal};
use crate::drive::largest;
use crate::error::Error;
use crate::report::quantity;
use crate::studies::surge::DirectionRuns;
use crate::studies::surge::checks::event;

fn state(name: &str) -> Signal {
    Signal::State("contactor".into(), name.into())
}

/// The largest current of a main contact in any run.
pub(super) fn made_by_main(directions: &[DirectionRuns]) -> Result<Option<Found>, Error> {
    let mut found = None;
    for (contact, name) in
        [("contact supply to motor A", "supply_a_current"), ("contact supply to motor B", "supply_b_current")]
    {
        for runs in directions {
            for (what, run) in runs.named() {
                let (current, time) = largest(&run.extremes(&state(name))?);
                found =
                    Found::larger(found, Found::new(current, time, &format!("{contact}, {what} {}", runs.direction)));
            }
        }
    }
    Ok(found)
}

/// The largest current after a rest contact has closed on a turning motor, until a set leaves ground again. A rest contact
/// that stays closed carries the surge without making it.
pub(super) fn made_by_rest(directions: &[DirectionRuns]) -> Result<Option<Found>, Error> {
    let mut found = None;
    for runs in directions {
        let letter = runs.direction.letter();
        let closes = format!("set {} back on ground", letter.to_uppercase());
        let signal = state(&format!("ground_{letter}_current"));
        let after: [(&str, &Run); 3] =
            [("release", &runs.release), ("stalled release", &runs.stalled_release), ("reversal", &runs.reversal)];
        for (what, run) in after {
            let Some(closed) = event(run, "contactor", &closes) else { continue };
            let leaves = |e: &&Event| e.part == "contactor" && e.time > closed && e.what.contains("leaves ground");
            let until = run.events.iter().find(leaves).map_or(f64::INFINITY, |e| e.time);
            let (current, time) = largest(&run.extremes_between(&signal, closed, until)?);
            let contact = format!("contact ground to motor {}, {what} {}", letter.to_uppercase(), runs.direction);
            found = Found::larger(found, Found::new(current, time, &contact));
        }
    }
    Ok(found)
}

/// Arcs that burn on at the full gap: until the end of the run, or for a while.
pub(super) struct Arcs {
    pub stay: Vec<String>,
    pub linger: Option<String>,
}

pub(super) fn arcs(directions: &[DirectionRuns]) -> Arcs {
    let mut arcs = Arcs { stay: Vec::new(), linger: None };
    for runs in directions {
        for (what, run) in runs.named() {
            for (k, arc) in run.events.iter().enumerate() {
                let Some((_, site)) = arc.what.split_once(" at full gap") else { continue };
                let gone = format!("arc goes out{site}");
                let mut later = run.events[k..].iter();
                match later.find(|event| event.part == arc.part && event.what == gone) {
                    None => arcs.stay.push(format!("first: {arc}, {what} {}", runs.direction)),
                    Some(out) if arcs.linger.is_none() => {
                        let after = quantity(out.time - arc.time, "s");
                        arcs.linger = Some(format!("{arc}, {what} {}, goes out {after} later", runs.direction));
                    }
                    Some(_) => {}
                }
            }
        }
    }
    arcs
}
