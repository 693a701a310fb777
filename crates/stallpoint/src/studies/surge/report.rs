//! The surge study as a report.

use super::{StalledCase, SurgeStudy, VoltsLost};
use crate::drive::{CoilReturn, ControlSupply, Direction, Drive};
use crate::parts::Cable;
use crate::report::{Check, Document, Verdict, with_unit};

/// Cautions for everyone who measures or works on a live drive.
const CAUTIONS: [&str; 9] = [
    "Isolate, lock or tag where required; prove the tester on a known live source, prove dead, prove the tester again.",
    "Block the load: a released or overhauling load may move.",
    "An automatic-reset breaker can restart the motor without warning: isolate, never wait for it.",
    "Lead-acid batteries gas: no sparks at the battery, make the last connection away from it, wear eye protection.",
    "Jewellery off, insulated tools: fault current may exceed a kiloampere.",
    "On negative-ground systems negative comes off first and goes on last.",
    "Do not hold a stalled motor beyond the seconds stated here; a bad joint may be hot enough to burn.",
    "Measure resistance only on an isolated circuit; use a lamp and a meter rated for the voltage.",
    "Local codes and licensed practice come first.",
];

impl SurgeStudy {
    /// The report, ready to render.
    pub fn report(&self) -> Document {
        let mut report = Document::new(format!("Start-up surge of \"{}\"", self.drive.name));
        report.paragraph(self.summary());
        if !self.drive.note.is_empty() {
            report.paragraph(&self.drive.note);
        }
        report.heading("The drive as understood");
        report.list(understood(&self.drive));
        report.heading("Requirements");
        report.table(
            ["verdict", "requirement", "value", "limit", "margin", "when", "basis"],
            self.sorted().into_iter().map(check_row).collect(),
        );
        report.heading("The surge");
        report.table(["", "forward", "reverse"], self.surge_rows());
        report.heading("Largest current of each part in each run, A");
        let runs = self.directions[0].named().map(|(name, _)| name);
        report.table(["part", "direction"].into_iter().chain(runs), self.peak_rows());
        if let Some(sentence) = self.braking_sentence() {
            report.paragraph(sentence);
        }
        report.heading("Where the volts go, forward, V");
        report.table(
            ["element".to_string()].into_iter().chain(self.volts.iter().map(|lost| lost.when.clone())),
            volt_rows(&self.volts),
        );
        report.heading("Stalled");
        let heads = [
            "direction",
            "joint",
            "current",
            "heat in the joint",
            "fastest device trips",
            "slowest device trips",
            "winding at its limit",
            "cable at its limit",
        ];
        report.table(heads, self.stalled.iter().map(stalled_row).collect());
        report.list(self.stalled.iter().map(stalled_sentence));
        report.heading("Assumptions");
        report.list([
            "Starts from rest with the charge and the temperatures of the drive's file; each run keeps them as its own state.",
            "The breaker of the runs sits at its band position; nuisance is judged by the fastest device, protection by the \
             slowest.",
            "Contacts, arcs and bounce as the parts' documentation says; defaults there are typical values without a source.",
            "Cable limits: k²S² of IEC 60364-5-54 up to 5 s, beyond that the ampacity given by the user.",
        ]);
        report.heading("Cautions");
        report.list(CAUTIONS);
        report
    }

    /// The report as plain text.
    pub fn to_text(&self) -> String {
        self.report().to_text()
    }

    /// The report as Markdown.
    pub fn to_markdown(&self) -> String {
        self.report().to_markdown()
    }

    /// The report as one HTML page.
    pub fn to_html(&self) -> String {
        self.report().to_html()
    }

    /// How many requirements got which verdict, in one line.
    pub fn summary(&self) -> String {
        let count = |verdict| self.checks.iter().filter(|check| check.verdict == verdict).count();
        let all = [Verdict::Fail, Verdict::May, Verdict::Marginal, Verdict::NotChecked, Verdict::Pass];
        let counts = all.map(|verdict| (verdict, count(verdict))).into_iter().filter(|(_, count)| *count > 0);
        counts.map(|(verdict, count)| format!("{count} {verdict}")).collect::<Vec<_>>().join(", ")
    }

    /// Worst verdicts first.
    fn sorted(&self) -> Vec<&Check> {
        let rank = |check: &&Check| match check.verdict {
            Verdict::Fail => 0,
            Verdict::May => 1,
            Verdict::Marginal => 2,
            Verdict::NotChecked => 3,
            Verdict::Pass => 4,
        };
        let mut checks: Vec<&Check> = self.checks.iter().collect();
        checks.sort_by_key(rank);
        checks
    }

    fn surge_rows(&self) -> Vec<Vec<String>> {
        let both = |what: &str, read: &dyn Fn(&crate::drive::Surge) -> String| {
            let [forward, reverse] = [0, 1].map(|k| read(&self.directions[k].start.surge));
            vec![what.to_string(), forward, reverse]
        };
        vec![
            both("peak current through the breaker", &|s| with_unit(s.peak_current, "A")),
            both("time of the peak", &|s| with_unit(s.time_of_peak, "s")),
            both("peak current through the motor", &|s| with_unit(s.peak_motor_current, "A")),
            both("time to 95 % of the settled speed", &|s| {
                s.time_to_speed.map_or("not reached".into(), |time| with_unit(time, "s"))
            }),
            both("i²t until then", &|s| with_unit(s.surge_i2t, "A²s")),
            both("lowest voltage between supply and ground stud", &|s| with_unit(s.lowest_stud_voltage, "V")),
            both("lowest voltage at the coil", &|s| with_unit(s.lowest_coil_voltage, "V")),
            both("stalled", &|s| if s.stalled { "yes".into() } else { "no".into() }),
            both("breaker trips", &|s| s.trips.to_string()),
            both("drop-outs of the contactor", &|s| s.dropouts.to_string()),
        ]
    }

    fn peak_rows(&self) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        for part in &self.peaks {
            for direction in Direction::BOTH {
                let own = part.peaks.iter().filter(|peak| peak.0 == direction);
                let mut row = vec![part.part.to_string(), direction.to_string()];
                row.extend(own.map(|peak| format!("{:.0}", peak.2)));
                rows.push(row);
            }
        }
        rows
    }

    /// Braking through the rest contacts, where it exceeds the start.
    fn braking_sentence(&self) -> Option<String> {
        let peak = |part: &str, picks: &dyn Fn(&str) -> bool| {
            let part = self.peaks.iter().find(|peaks| peaks.part == part)?;
            part.peaks.iter().filter(|peak| picks(peak.1)).map(|peak| peak.2).reduce(f64::max)
        };
        let braking = peak("motor", &|run| run == "release")?;
        let starting = peak("motor", &|run| run == "start")?;
        (braking > starting).then(|| {
            format!(
                "The largest motor current is not the start's {starting:.0} A but {braking:.0} A, when the released motor brakes through \
                 the resting contacts; it never passes the breaker."
            )
        })
    }
}

/// One line for each part.
fn understood(drive: &Drive) -> Vec<String> {
    let battery = &drive.battery;
    let cable = |name: &str, cable: &Cable| {
        let resistance = with_unit(cable.resistance(), "ohm");
        format!(
            "{name}: {}, {} one way, {resistance} ({})",
            cable.cross_section,
            cable.length,
            cable.resistance_basis()
        )
    };
    let contactor = &drive.contactor;
    let coil_return = match drive.control.coil_return {
        CoilReturn::BatteryNegative => "battery negative, through its own wire",
        CoilReturn::GroundStud => "the ground stud",
        CoilReturn::Case => "the case",
    };
    let supply = match drive.control.supply {
        ControlSupply::BeforeBreaker => "before the breaker",
        ControlSupply::AfterBreaker => "after the breaker",
    };
    let mut lines = vec![
        format!(
            "Battery: {:.2} V open circuit, {} series resistance, state of charge {:.0} %",
            battery.open_circuit_voltage(),
            with_unit(battery.resistance(), "ohm"),
            100.0 * battery.state_of_charge.si()
        ),
        format!("Breaker: {} rated, band position {}", drive.breaker.rated_current, drive.breaker.band_position),
        cable("Supply cable", &drive.supply_cable),
        cable("Ground cable", &drive.ground_cable),
        format!(
            "Reversing contactor: coil {}, pulls in at {}, drops out at {} (20 °C), at rest {:?}",
            contactor.coil.resistance, contactor.pull_in_voltage, contactor.drop_out_voltage, contactor.rest
        ),
        format!("Control: supply taken {supply}, coil return to {coil_return}"),
        format!("Motor: {}", drive.motor.part().kind()),
    ];
    let loads: Vec<&str> = drive.load.iter().map(|load| load.part().kind()).collect();
    lines.push(format!("Load: {}", if loads.is_empty() { "none".into() } else { loads.join(", ") }));
    for (name, joint) in &drive.joints {
        lines.push(format!("{name}: {}", with_unit(joint.resistance.si(), "ohm")));
    }
    lines
}

fn check_row(check: &Check) -> Vec<String> {
    let number = |value: Option<f64>| value.map_or(String::new(), |value| with_unit(value, check.unit));
    vec![
        check.verdict.to_string(),
        check.requirement.clone(),
        number(check.value),
        number(check.limit),
        check.margin.map_or(String::new(), |margin| format!("{:+.0} %", 100.0 * margin)),
        check.when.clone(),
        check.basis.clone(),
    ]
}

fn volt_rows(states: &[VoltsLost]) -> Vec<Vec<String>> {
    let Some(first) = states.first() else { return Vec::new() };
    let volts = |value: f64| format!("{:.3}", value + 0.0);
    let mut rows = vec![row("battery, plus to minus", states.iter().map(|state| volts(state.battery)))];
    for (k, drop) in first.drops.iter().enumerate() {
        rows.push(row(&drop.element, states.iter().map(|state| volts(state.drops[k].volts))));
    }
    let supply = ["battery_lead", "isolator", "isolator_lead", "breaker", "supply_cable"];
    let mut sum = |what: &str, picks: &dyn Fn(&str) -> bool| {
        rows.push(row(what, states.iter().map(|state| volts(state.sum(picks)))));
    };
    sum("sum of the supply run without joints", &|name| supply.contains(&name));
    sum("sum of the ground run without joints", &|name| name == "ground_cable");
    sum("sum of the joints", &|name| name.ends_with("_joint"));
    sum("sum of the contactor", &|name| name.starts_with("contactor"));
    rows
}

fn row(first: &str, others: impl Iterator<Item = String>) -> Vec<String> {
    [first.to_string()].into_iter().chain(others).collect()
}

fn stalled_row(case: &StalledCase) -> Vec<String> {
    let time = |time: Option<f64>, none: &str| time.map_or(none.to_string(), |time| with_unit(time, "s"));
    vec![
        case.direction.to_string(),
        format!("{} {}", with_unit(case.joint_resistance, "ohm"), case.what),
        with_unit(case.current, "A"),
        with_unit(case.joint_power, "W"),
        time(case.trips_after[0], "never"),
        time(case.trips_after[1], "never"),
        time(case.winding_limit_after, "not checked"),
        time(case.cable_limit_after, "not checked"),
    ]
}

fn stalled_sentence(case: &StalledCase) -> String {
    let start = format!("{}, {} {}", case.direction, case.joint, case.what);
    match (case.hold_limit(), case.protected()) {
        (Some(_), Some(true)) => format!("{start}: the breaker opens before winding and cable are at their limits."),
        (Some(limit), _) => {
            format!("{start}: not protected by the breaker: limit the hold to {}.", with_unit(limit, "s"))
        }
        (None, _) => format!("{start}: not checked, for want of the winding's and the cable's data."),
    }
}
