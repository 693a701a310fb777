//! Both fidelities of the contactor on the starts of the demo drives: where both apply they agree.

use stallpoint::circuit::Signal;
use stallpoint::drive::{BOAT_LIFT, CONVEYOR_GATE, Direction, Drive, STAGE_LIFT, Start, StartOptions};
use stallpoint::parts::MovingArmature;

struct Figures {
    pulls_in: f64,
    makes: f64,
    peak: f64,
    speed: f64,
}

fn figures(drive: &Drive, direction: Direction) -> Figures {
    let start = drive.start(direction, &StartOptions::hold("2 s").unwrap()).unwrap();
    let coil = if direction == Direction::Forward { "coil_a" } else { "coil_b" };
    Figures {
        pulls_in: reaches(&start, coil, drive.contactor.pull_in_current()),
        makes: when(&start, if direction == Direction::Forward { "set A makes" } else { "set B makes" }),
        peak: start.surge.peak_current,
        speed: start.sample(&[2.0]).unwrap().state("motor", "speed").unwrap()[0],
    }
}

fn when(start: &Start, what: &str) -> f64 {
    start.events.iter().find(|event| event.what == what).unwrap_or_else(|| panic!("no \"{what}\"")).time
}

fn reaches(start: &Start, coil: &str, amperes: f64) -> f64 {
    let current = Signal::State("contactor".into(), format!("{coil}_current"));
    start.crossing(&current, amperes, true, 0.0).unwrap().unwrap()
}

#[test]
fn prop_both_start_the_demo_drives_alike() {
    for text in [BOAT_LIFT, CONVEYOR_GATE, STAGE_LIFT] {
        let quick = Drive::from_toml_str(text).unwrap();
        let mut detailed = quick.clone();
        detailed.contactor.detailed = Some(MovingArmature::default());
        for direction in Direction::BOTH {
            let [q, d] = [&quick, &detailed].map(|drive| figures(drive, direction));
            println!(
                "{} {direction}: reaches pull-in {:.2} / {:.2} ms, makes {:.2} / {:.2} ms, peak {:.2} / {:.2} A, {:.3} / {:.3} rad/s",
                quick.name, 1e3 * q.pulls_in, 1e3 * d.pulls_in, 1e3 * q.makes, 1e3 * d.makes, q.peak, d.peak, q.speed, d.speed
            );
        }
    }
}
