//! The loop as one would see it: studs, lugs and cables.

use crate::drive::{CoilReturn, ControlSupply, Drive};
use crate::parts::motor::FieldPlace;
use crate::parts::{Cable, Joint};
use crate::report::quantity;
use crate::report::svg::{Anchor, ORANGE, Svg};

/// A joint this many times worse than new is marked.
const FAR_FROM_NEW: f64 = 10.0;
/// Heights of the way to the motor and of the way back.
const TOP: f64 = 175.0;
const BACK: f64 = 285.0;
const WIDTH: f64 = 1000.0;

/// One picture with the studs met so far.
struct Loop<'d> {
    svg: Svg,
    drive: &'d Drive,
    studs: Vec<String>,
}

pub(super) fn picture(drive: &Drive) -> String {
    let series = drive.motor.fields().iter().any(|place| matches!(place, FieldPlace::SupplyLead { .. }));
    let shunt = drive.motor.fields().iter().any(|place| matches!(place, FieldPlace::AcrossSupply { .. }));
    let mut p = Loop { svg: Svg::new(WIDTH, 480.0), drive, studs: Vec::new() };
    p.part((20.0, 145.0), (100.0, 170.0), "battery", &quantity(drive.battery.open_circuit_voltage(), "V"));
    let device = drive.protection();
    p.part((205.0, 150.0), (70.0, 50.0), "isolator", "");
    p.part((355.0, 150.0), (75.0, 50.0), device.name(), &quantity(device.rated_current().si(), "A"));
    p.part((665.0, 130.0), (120.0, 185.0), "reversing", "contactor");
    p.svg.circle((922.0, 230.0), 58.0, "fill=\"#fff\" stroke=\"#000\" stroke-width=\"1.5\"");
    p.svg.text((930.0, 235.0), Anchor::Middle, 13.0, "", "motor");
    p.control();

    p.cable("battery lead", drive.battery_lead.as_ref(), (120.0, TOP), (205.0, TOP), "");
    p.cable("isolator lead", drive.isolator_lead.as_ref(), (275.0, TOP), (355.0, TOP), "");
    let supply = Some(&drive.supply_cable);
    if series {
        p.cable("supply cable", supply, (430.0, TOP), (560.0, TOP), "");
        p.part((560.0, 150.0), (45.0, 50.0), "field", "");
        p.cable("", None, (605.0, TOP), (665.0, TOP), "");
    } else {
        p.cable("supply cable", supply, (430.0, TOP), (665.0, TOP), "");
    }
    p.cable("motor lead", drive.motor_lead.as_ref(), (785.0, TOP), (880.0, 190.0), "");
    p.cable("", drive.motor_lead.as_ref(), (880.0, 270.0), (785.0, BACK), BACK_DASH);
    p.cable("ground cable", Some(&drive.ground_cable), (665.0, BACK), (120.0, BACK), BACK_DASH);
    if shunt {
        p.svg.line(&[(650.0, TOP), (650.0, BACK)], 1.5, "");
        p.svg.rect((641.0, 205.0), (18.0, 50.0), "fill=\"#fff\" stroke=\"#000\"");
        p.svg.text((636.0, 234.0), Anchor::End, 11.0, "", "shunt field");
    }

    for (name, at) in [
        ("battery_positive", (120.0, TOP)),
        ("isolator_in", (205.0, TOP)),
        ("isolator_out", (275.0, TOP)),
        (&drive.own_name("breaker_in"), (355.0, TOP)),
        (&drive.own_name("breaker_out"), (430.0, TOP)),
    ] {
        p.stud(name, at);
    }
    if series {
        p.stud("field_in", (560.0, TOP));
        p.stud("field_out", (605.0, TOP));
    }
    for (name, at) in [
        ("supply_stud", (665.0, TOP)),
        ("motor_a_stud", (785.0, TOP)),
        ("motor_a", (880.0, 190.0)),
        ("motor_b", (880.0, 270.0)),
        ("motor_b_stud", (785.0, BACK)),
        ("ground_stud", (665.0, BACK)),
        ("battery_negative", (120.0, BACK)),
    ] {
        p.stud(name, at);
    }
    p.case();
    p.key(shunt);
    p.svg.finish(&format!("The loop of {}", drive.name), "")
}

/// The way back is dashed, so that it reads in black and white.
const BACK_DASH: &str = "stroke-dasharray=\"14 3\"";

impl Loop<'_> {
    fn part(&mut self, at: (f64, f64), size: (f64, f64), name: &str, more: &str) {
        self.svg.rect(at, size, "rx=\"4\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1.5\"");
        let (x, y) = (at.0 + 0.5 * size.0, at.1 + 0.5 * size.1);
        let lift = if more.is_empty() { 4.0 } else { -3.0 };
        // The studs of flat parts lie where their name would be.
        let (y, lift) =
            if size.1 < 60.0 { (at.1 - if more.is_empty() { 14.0 } else { 20.0 }, lift) } else { (y, lift) };
        self.svg.text((x, y + lift), Anchor::Middle, 13.0, "", name);
        self.svg.text((x, y + lift + 15.0), Anchor::Middle, 12.0, "", more);
    }

    /// A cable with its lugs and its data.
    fn cable(&mut self, name: &str, cable: Option<&Cable>, from: (f64, f64), to: (f64, f64), dash: &str) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = dx.hypot(dy);
        let (ux, uy) = (dx / length, dy / length);
        let along = |from: (f64, f64), d: f64| (from.0 + d * ux, from.1 + d * uy);
        let width = if cable.is_some() { 6.0 } else { 3.0 };
        self.svg.line(&[along(from, 18.0), along(to, -18.0)], width, dash);
        if cable.is_some() {
            for (end, side) in [(from, 1.0), (to, -1.0)] {
                let barrel = [along(end, 6.0 * side), along(end, 24.0 * side)];
                self.svg.line(&barrel, 11.0, "stroke=\"#000\"");
                self.svg.line(&barrel, 8.0, "stroke=\"#bbb\"");
            }
        }
        if name.is_empty() {
            return;
        }
        let middle = along(from, 0.5 * length);
        let data = match cable {
            Some(cable) => vec![
                name.to_string(),
                format!(
                    "{}, {}",
                    cable.cross_section.to_string().replace("mm2", "mm²"),
                    quantity(cable.length.si(), "m")
                ),
                quantity(cable.resistance(), "ohm"),
            ],
            None => vec![name.to_string(), "bus bar".into()],
        };
        // Short leads have their words below the parts beside them, the motor's above.
        let (below, down) = match (dash.is_empty(), length < 90.0) {
            (false, _) => (true, 26.0),
            (true, true) => (true, 46.0),
            (true, false) => (false, 0.0),
        };
        for (k, words) in data.iter().enumerate() {
            let up = 12.0 + 13.0 * (data.len() - 1 - k) as f64;
            let y = if below { middle.1 + down + 13.0 * k as f64 } else { middle.1 - up };
            self.svg.text((middle.0, y), Anchor::Middle, 11.0, "", words);
        }
    }

    /// A stud with its lug's eye, numbered; a bad joint is marked.
    fn stud(&mut self, name: &str, at: (f64, f64)) {
        self.studs.push(name.to_string());
        let fill = if self.bad(name) { ORANGE } else { "#fff" };
        let width = if self.bad(name) { 3.0 } else { 1.5 };
        self.svg.circle(at, 9.0, &format!("fill=\"{fill}\" stroke=\"#000\" stroke-width=\"{width}\""));
        self.svg.circle(at, 4.0, "fill=\"#000\"");
        let number = self.studs.len().to_string();
        let wide = if number.len() > 1 { 16.0 } else { 10.0 };
        self.svg.rect((at.0 - 0.5 * wide, at.1 - 23.0), (wide, 12.0), "fill=\"#fff\"");
        self.svg.text((at.0, at.1 - 13.0), Anchor::Middle, 11.0, "font-weight=\"bold\"", &number);
    }

    fn joint(&self, name: &str) -> Joint {
        self.drive.joints.get(&format!("{name}_joint")).cloned().unwrap_or_default()
    }

    fn bad(&self, name: &str) -> bool {
        let joint = self.joint(name);
        joint.open || joint.resistance.si() >= FAR_FROM_NEW * Joint::default().resistance.si()
    }

    /// Thin wires: control supply, switch, two signal wires, coil return.
    fn control(&mut self) {
        let wiring = &self.drive.control;
        let tap = match wiring.supply {
            ControlSupply::BeforeBreaker => 340.0,
            ControlSupply::AfterBreaker => 447.0,
        };
        let thin = "stroke-linejoin=\"round\"";
        self.svg.line(&[(tap, TOP), (tap, 60.0), (520.0, 60.0)], 1.2, thin);
        self.svg.rect((520.0, 40.0), (96.0, 40.0), "rx=\"4\" fill=\"#fff\" stroke=\"#000\"");
        self.svg.text((568.0, 64.0), Anchor::Middle, 12.0, "", "control switch");
        self.svg.line(&[(616.0, 52.0), (750.0, 52.0), (750.0, 130.0)], 1.2, thin);
        self.svg.line(&[(616.0, 68.0), (700.0, 68.0), (700.0, 130.0)], 1.2, thin);
        self.svg.text((755.0, 110.0), Anchor::Start, 11.0, "", "coil A");
        self.svg.text((695.0, 110.0), Anchor::End, 11.0, "", "coil B");
        let (end, words): (&[(f64, f64)], &str) = match wiring.coil_return {
            CoilReturn::BatteryNegative => (
                &[(740.0, 315.0), (740.0, 362.0), (137.0, 362.0), (137.0, BACK)],
                "coil return: own wire to battery negative",
            ),
            CoilReturn::GroundStud => {
                (&[(740.0, 315.0), (740.0, 340.0), (648.0, 340.0), (648.0, BACK)], "coil return: to the ground stud")
            }
            CoilReturn::Case => (&[(740.0, 315.0), (740.0, 345.0)], "coil return: to the case"),
        };
        self.svg.line(end, 1.2, thin);
        self.svg.text((625.0, 357.0), Anchor::End, 11.0, "", words);
    }

    fn case(&mut self) {
        self.svg.rect(
            (640.0, 90.0),
            (350.0, 255.0),
            "rx=\"10\" fill=\"none\" stroke=\"#000\" stroke-width=\"1\" stroke-dasharray=\"2 4\"",
        );
        let words = match self.drive.case.bonded {
            true => "case, bonded to the ground stud",
            false => "case, floating",
        };
        self.svg.text((985.0, 338.0), Anchor::End, 11.0, "", words);
        if self.drive.case.bonded {
            self.svg.line(&[(673.0, BACK + 6.0), (690.0, 345.0)], 1.0, "stroke-dasharray=\"2 4\"");
        }
    }

    /// What the numbers are, with each joint's resistance.
    fn key(&mut self, shunt: bool) {
        let named = |name: &str, joint: &Joint| {
            let words = if joint.open { "open".into() } else { quantity(joint.resistance.si(), "ohm") };
            format!("{name} {words}")
        };
        let mut entries: Vec<(String, bool)> = Vec::new();
        for (k, name) in self.studs.iter().enumerate() {
            entries.push((format!("{} {}", k + 1, named(name, &self.joint(name))), self.bad(name)));
        }
        if shunt {
            for name in ["shunt_in", "shunt_out"] {
                entries.push((named(name, &self.joint(name)), self.bad(name)));
            }
        }
        let columns = 5;
        for (k, (words, bad)) in entries.iter().enumerate() {
            let at = (20.0 + 195.0 * (k % columns) as f64, 395.0 + 17.0 * (k / columns) as f64);
            let style = if *bad { "font-weight=\"bold\"" } else { "" };
            self.svg.text(at, Anchor::Start, 11.5, style, words);
        }
    }
}
