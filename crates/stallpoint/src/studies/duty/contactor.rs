//! "Continuous or intermittent contactor?", in numbers.

use super::bodies::CONTACTS;
use super::profile::SpanLoads;
use super::{Cycle, CycleKind};
use crate::drive::{Direction, Drive};
use crate::parts::ContactorDuty;
use crate::report::{percent, quantity};

/// Preferred duty factors (IEC 60034-1; from memory).
const PREFERRED: [f64; 4] = [0.15, 0.25, 0.4, 0.6];

/// What a cycle asks of the contactor.
#[derive(Debug, Clone, PartialEq)]
pub struct ContactorAnswer {
    /// What the drive's description says.
    pub described: Option<ContactorDuty>,
    /// Longest time at a stretch that each coil is energised, s: A, B.
    pub longest_on: [f64; 2],
    /// Share of the cycle in which either coil is energised; none in S2.
    pub duty_factor: Option<f64>,
    /// Operations in an hour; none where the cycle does not repeat.
    pub operations_per_hour: Option<f64>,
    /// The contact with the largest rms current over the cycle.
    pub contact: &'static str,
    /// Its rms current over the cycle, A; in S2 over the time energised.
    pub rms_current: f64,
    /// Largest settled current of any contact, A.
    pub settled_current: f64,
}

impl ContactorAnswer {
    /// The longest time at a stretch that either coil is energised, s.
    pub fn longest(&self) -> f64 {
        self.longest_on[0].max(self.longest_on[1])
    }

    /// The answer in words.
    pub fn words(&self) -> String {
        let settled = quantity(self.settled_current, "A");
        if self.longest().is_infinite() {
            return format!(
                "The contactor is energised for ever at {settled}: only one of continuous duty, for coils and contacts, serves."
            );
        }
        let longest = quantity(self.longest(), "s");
        let share = self.duty_factor.map_or_else(String::new, |share| format!(", {} of the cycle", percent(share)));
        let rms = quantity(self.rms_current, "A");
        let asks = format!(
            "The contactor is energised for up to {longest} at a stretch{share}. Its contacts carry {settled} when settled; {} has \
             the most, {rms} rms.",
            self.contact
        );
        let factor = self.duty_factor.map_or_else(String::new, |share| {
            let next = PREFERRED.into_iter().find(|preferred| *preferred >= share);
            let next =
                next.map_or_else(String::new, |next| format!(" (the next preferred value is {})", percent(next)));
            format!(" and a duty factor of {}{next}", percent(share))
        });
        let operations = self
            .operations_per_hour
            .map_or_else(String::new, |n| format!(" It operates {} times an hour.", crate::report::number(n)));
        format!(
            "{asks} One of continuous duty serves if its continuous current is at least {settled}, or at least {rms} where its path \
             is slow against the cycle. One of intermittent duty serves if its data sheet allows {longest} at a stretch{factor} at \
             {settled}.{operations}"
        )
    }
}

pub(super) fn answer(drive: &Drive, cycle: &Cycle, spans: &[SpanLoads], contacts: [usize; 4]) -> ContactorAnswer {
    // In S2 the rest is endless and counts for nothing.
    let counted = |span: &&SpanLoads| cycle.kind() != CycleKind::ShortTime || span.call.is_some();
    let whole = cycle.time();
    let rms = contacts.map(|contact| {
        let mean = |span: &SpanLoads| match whole {
            Some(whole) => span.duration / whole * span.mean(contact),
            None => span.mean(contact),
        };
        spans.iter().filter(counted).map(mean).sum::<f64>().sqrt()
    });
    let busiest = (0..contacts.len()).max_by(|&a, &b| rms[a].total_cmp(&rms[b])).unwrap_or(0);
    let on = spans.iter().filter(|span| span.call.is_some()).filter_map(SpanLoads::settled);
    let settled = on.flat_map(|means| contacts.map(|contact| means[contact].sqrt())).fold(0.0, f64::max);
    let operations = spans.iter().filter(|span| span.call.is_some()).count() as f64;
    ContactorAnswer {
        described: drive.contactor.duty,
        longest_on: Direction::BOTH.map(|direction| cycle.longest_on(direction)),
        duty_factor: cycle.duty_factor(),
        operations_per_hour: whole
            .filter(|_| cycle.kind() == CycleKind::Repeated)
            .map(|whole| operations * 3600.0 / whole),
        contact: CONTACTS[busiest].0,
        rms_current: rms[busiest],
        settled_current: settled,
    }
}
