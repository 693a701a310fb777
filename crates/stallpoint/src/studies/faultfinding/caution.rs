//! What to mind while measuring.

use super::measurement::{Measurement, Tool};
use super::places::{Place, place};
use super::position::Held;
use crate::report::quantity;

/// Whether a slip from this point to ground shorts the battery: what stands at battery plus then.
pub(super) fn live_high_current(point: &str, held: Held) -> bool {
    let starts = |words: &[&str]| words.iter().any(|word| point.starts_with(word));
    let moves = matches!(held, Held::Forward | Held::Reverse);
    held != Held::Isolated
        && (starts(&["battery_positive", "isolator", "breaker", "fuse", "supply_stud", "field"])
            || moves && starts(&["motor_a", "motor_b"]))
}

impl Measurement {
    /// What to mind; local codes and licensed practice come first.
    pub fn caution(&self) -> String {
        self.caution_with(None)
    }

    /// What to mind on a drive in which a dead short behind the breaker or fuse would draw so much, A.
    pub fn caution_with(&self, short_circuit: Option<f64>) -> String {
        let points = [&self.plus, &self.minus].map(String::as_str);
        let moves = matches!(self.held, Held::Forward | Held::Reverse);
        let mut words: Vec<String> = Vec::new();
        if self.held == Held::Isolated {
            words.push("isolate, lock or tag, prove the tester, prove dead, prove the tester again: resistance only on a dead circuit".into());
        } else if self.tool.probes() == 2 {
            words.push("live: insulated probes, jewellery off, the meter or lamp rated for the voltage".into());
            if points.iter().any(|point| live_high_current(point, self.held)) {
                let about = short_circuit.map_or(String::new(), |a| format!(", about {}", quantity(a, "A")));
                words.push(format!("a slip from battery plus to ground here is a dead short{about}"));
            }
            if points.iter().any(|point| place(point) == Place::Battery) {
                words.push("no sparks at the battery, eye protection".into());
            }
        } else if self.tool == Tool::Clamp {
            words.push("jaws round one insulated conductor, hands off bare studs".into());
        }
        if moves {
            words.push("the motor may start: keep clear, block the load; a few seconds only if it stands".into());
        } else if self.tool == Tool::WatchMotor {
            words.push(
                "keep clear: a welded contact, or what closes again by itself, may turn the motor with the control at rest"
                    .into(),
            );
        }
        sentence(&words.join("; "))
    }
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect::<String>() + ".")
}
