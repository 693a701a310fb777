//! From fast runs to the steady cycle.

use super::answers;
use super::bodies::{Body, CONTACTS, Law, bodies, edge_names};
use super::contactor::{self, ContactorAnswer};
use super::follow::Follower;
use super::measures::Measures;
use super::profile::SpanLoads;
use super::{Cycle, CycleKind, DutyOptions, checks};
use crate::circuit::{Progress, Signal, Watcher};
use crate::drive::{Direction, Drive};
use crate::error::Error;
use crate::report::Check;

/// Passes after which it is left at that.
const PASSES: usize = 16;
/// Change of every temperature from pass to pass below which the cycle is steady, K.
const SETTLED_K: f64 = 0.02;
/// Beyond this temperature currents are held as at it, °C: there is no such winding any more.
const HOTTEST_C: f64 = 390.0;

/// How one part fares.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDuty {
    /// The part: "motor winding", "supply cable", "contact supply to motor A", "coil A", "breaker, fastest device".
    pub part: String,
    /// "degC" for a temperature; "1" for a contact's share of its rise at the carrying current and for a breaker's
    /// accumulated trip fraction.
    pub unit: &'static str,
    /// Value after a long rest.
    pub cold: f64,
    /// Lowest value in the steady cycle; infinite when it grows for ever.
    pub lowest: f64,
    /// Highest value in the steady cycle; infinite when it grows for ever.
    pub highest: f64,
    /// When in the cycle it is highest, s.
    pub highest_at: f64,
    /// Highest value of the motor's case, for a winding that has one, °C.
    pub case_highest: Option<f64>,
    /// Where it settles if the busiest direction of the cycle is held for ever; infinite when it never does.
    pub if_held: f64,
    /// Its values through the steady cycle, (s, value); in S2 while energised; empty when there is no steady cycle.
    pub curve: Vec<(f64, f64)>,
    /// Its limit; none when not known.
    pub limit: Option<f64>,
    /// Where the limit comes from, or what is missing.
    pub basis: String,
    /// Rms current over the cycle, A.
    pub rms_current: Option<f64>,
    /// How long it may be energised from cold, s; infinite without end.
    pub longest_on_from_cold: Option<f64>,
    /// How long one run forward and one run reverse may be, when all runs of the cycle are made longer alike and the rests stay, s;
    /// infinite without end. Never more than from cold. None for a direction that the cycle does not have, and where no cycle
    /// repeats.
    pub longest_on: [Option<f64>; 2],
    /// The least rest in each cycle, all its rests together and shortened alike, the times energised as they are, s; infinite when
    /// none is long enough. After S2: until it is cold again (within 2 K of ambient).
    pub shortest_rest: Option<f64>,
    /// The largest share of a cycle of this length for which it may be energised, up to 1.
    pub largest_duty_factor: Option<f64>,
}

/// A part of which too little is known to say how warm it gets.
#[derive(Debug, Clone, PartialEq)]
pub struct NotKnown {
    /// The part.
    pub part: String,
    /// What is missing.
    pub missing: String,
}

/// What a cycle takes out of the battery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatteryDuty {
    /// Charge taken in a cycle, C; in S1 in an hour.
    pub charge: f64,
    /// The same as a share of the battery's capacity.
    pub share: f64,
    /// Cycles (in S1 hours) until the charge that the description has is used up.
    pub lasts: f64,
}

/// The loads of one span.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanDuty {
    /// The direction called for; none at rest.
    pub call: Option<Direction>,
    /// Its duration, s.
    pub duration: f64,
    /// Rms current of the motor, A.
    pub motor_rms: f64,
    /// Current of the motor when settled, A, as rms.
    pub motor_settled: f64,
    /// Whether the motor stands although a direction is called for.
    pub stalled: bool,
}

/// The result of a duty study.
#[derive(Debug, Clone)]
pub struct DutyStudy {
    /// The drive studied.
    pub drive: Drive,
    /// The cycle.
    pub cycle: Cycle,
    /// Settings it was made with.
    pub options: DutyOptions,
    /// Every part that something is known of.
    pub parts: Vec<PartDuty>,
    /// The others.
    pub not_known: Vec<NotKnown>,
    /// Loads span by span.
    pub spans: Vec<SpanDuty>,
    /// The battery's charge.
    pub battery: BatteryDuty,
    /// Continuous or intermittent.
    pub contactor: ContactorAnswer,
    /// Every requirement with its verdict.
    pub checks: Vec<Check>,
    /// Times that the contactor let go while it was energised, in one cycle.
    pub dropouts: usize,
    /// Fast runs of the cycle that were made.
    pub passes: usize,
    /// Change of the temperatures in the last of them, K.
    pub last_change: f64,
}

impl DutyStudy {
    /// A part by its name.
    pub fn part(&self, name: &str) -> Option<&PartDuty> {
        self.parts.iter().find(|part| part.part == name)
    }
}

pub(super) fn study(drive: &Drive, cycle: &Cycle, options: &DutyOptions, watcher: Watcher) -> Result<DutyStudy, Error> {
    drive.check()?;
    cycle.check()?;
    options.check()?;
    let mut measures = Measures::new();
    let motor = measures.square("motor");
    let contacts = CONTACTS.map(|(_, state)| measures.square_of(Signal::State("contactor".into(), state.into())));
    let (bodies, unknown) = bodies(drive, options, &mut measures);
    let mut follower = Follower::new(drive, cycle, options, &measures, &bodies, PASSES)?;

    let mut temperatures: Vec<Vec<f64>> =
        bodies.iter().map(|body| vec![body.cold[0].min(HOTTEST_C); cycle.spans().len()]).collect();
    let (mut spans, mut change, mut passes, mut damping) = (Vec::new(), f64::INFINITY, 0, 1.0);
    while passes < PASSES {
        let done = passes as f64;
        let mut share = |progress: Progress| {
            // It nearly always takes four passes.
            watcher(Progress { time: (done / 4.0).min(0.9), until: 1.0, steps: progress.steps })
        };
        spans = follower.pass(&temperatures, &mut share)?;
        passes += 1;
        let before = change;
        change = 0.0;
        for (body, own) in bodies.iter().zip(&mut temperatures) {
            if !matches!(body.law, Law::Winding { .. } | Law::Conductor { .. } | Law::Coil { .. }) {
                continue;
            }
            let round = answers::fares(cycle, &spans, body);
            for (old, new) in own.iter_mut().zip(answers::means(&spans, body, round.as_ref())) {
                let step = new.min(HOTTEST_C) - *old;
                change = change.max(step.abs());
                *old += damping * step;
            }
        }
        // The first pass begins at rest and cold, which the cycle does not.
        if change < SETTLED_K && passes > 1 {
            break;
        }
        if change > 0.7 * before {
            damping = 0.5;
        }
    }

    let limited = |body: &Body| part(cycle, &spans, body);
    let parts: Vec<PartDuty> = bodies.iter().map(limited).collect();
    let not_known =
        unknown.into_iter().map(|unknown| NotKnown { part: unknown.name, missing: unknown.missing }).collect();
    let battery = battery(drive, cycle, &spans);
    let contactor = contactor::answer(drive, cycle, &spans, contacts);
    let of_spans = spans.iter().map(|span| SpanDuty {
        call: span.call,
        duration: span.duration,
        motor_rms: span.mean(motor).sqrt(),
        motor_settled: span.settled().map_or(0.0, |means| means[motor].sqrt()),
        stalled: span.stalled,
    });
    let mut study = DutyStudy {
        drive: drive.clone(),
        cycle: cycle.clone(),
        options: options.clone(),
        parts,
        not_known,
        spans: of_spans.collect(),
        battery,
        contactor,
        checks: Vec::new(),
        dropouts: follower.dropouts,
        passes,
        last_change: change,
    };
    study.checks = checks::checks(&study);
    Ok(study)
}

fn part(cycle: &Cycle, spans: &[SpanLoads], body: &Body) -> PartDuty {
    let round = answers::fares(cycle, spans, body);
    let case = matches!(&body.law, Law::Winding { armature, .. } if armature.case.is_some());
    let repeated = cycle.kind() == CycleKind::Repeated;
    let rest = cycle.time().unwrap_or(f64::INFINITY) - cycle.on_time(None);
    let limit = body.limit;
    let rests = repeated && rest > 0.0;
    PartDuty {
        part: body.name.clone(),
        unit: body.unit,
        cold: body.cold[0],
        lowest: round.as_ref().map_or(f64::INFINITY, |round| round.lowest),
        highest: round.as_ref().map_or(f64::INFINITY, |round| round.highest.0),
        highest_at: round.as_ref().map_or(f64::NAN, |round| round.highest.1),
        case_highest: case.then(|| round.as_ref().map_or(f64::INFINITY, |round| round.second_highest)),
        if_held: answers::if_held(spans, body),
        curve: round.as_ref().map_or_else(Vec::new, |round| answers::curve(cycle, spans, body, round.start)),
        limit,
        basis: body.basis.clone(),
        rms_current: body.square.map(|square| rms(cycle, spans, square)),
        longest_on_from_cold: limit.map(|limit| answers::on_from_cold(spans, body, limit, None)),
        longest_on: limit.filter(|_| rests).map_or([None; 2], |limit| answers::longest_on(cycle, spans, body, limit)),
        shortest_rest: match cycle.kind() {
            CycleKind::ShortTime => Some(answers::cold_again(spans, body)),
            _ => limit.filter(|_| rests).map(|limit| rest * answers::shrink_rest(spans, body, limit)),
        },
        largest_duty_factor: limit.and_then(|limit| answers::duty_factor(cycle, spans, body, limit)),
    }
}

/// Root of the mean of a measure over the cycle; in S2 over the time energised.
fn rms(cycle: &Cycle, spans: &[SpanLoads], square: usize) -> f64 {
    let Some(whole) = cycle.time() else { return spans.first().map_or(0.0, |span| span.mean(square)).sqrt() };
    (spans.iter().map(|span| span.duration * span.mean(square)).sum::<f64>() / whole).sqrt()
}

fn battery(drive: &Drive, cycle: &Cycle, spans: &[SpanLoads]) -> BatteryDuty {
    let taken = |span: &SpanLoads, duration: f64| duration * span.mean(Measures::BATTERY);
    let charge = match (cycle.kind(), spans) {
        (CycleKind::Continuous, [on]) => taken(on, 3600.0),
        (CycleKind::ShortTime, [on, ..]) => taken(on, on.duration),
        _ => spans.iter().map(|span| taken(span, span.duration)).sum(),
    };
    let battery = &drive.battery;
    let capacity = battery.capacity.si() * f64::from(battery.strings_in_parallel);
    let share = charge / capacity;
    let lasts = if share > 0.0 { battery.state_of_charge.si() / share } else { f64::INFINITY };
    BatteryDuty { charge, share, lasts }
}

/// The two edges of breaker or fuse among the parts.
pub(super) fn edges(study: &DutyStudy) -> Option<(&PartDuty, &PartDuty)> {
    let [fastest, slowest] = edge_names(&study.drive);
    Some((study.part(&fastest)?, study.part(&slowest)?))
}
