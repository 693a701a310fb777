//! The boat lift, end to end.

use stallpoint::drive::{BOAT_LIFT, Direction, Drive, StartOptions};

#[test]
fn first_light() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let start = drive.start(Direction::Forward, &StartOptions::hold("3 s").unwrap()).unwrap();
    println!("{:#?} {:?}", start.surge, start.counters);
    for event in &start.events {
        println!("{event}");
    }
    println!("{}", start.energy.residual() / start.energy.delivered());
    for joint in ["ground_stud_joint"] {
        for d in Direction::BOTH {
            println!("{:?}", drive.stall_threshold(joint, d));
        }
        let v = drive.with_values([("control.coil_return", "ground_stud")]).unwrap();
        for d in Direction::BOTH {
            println!("{:?}", v.stall_threshold(joint, d));
        }
    }
    let study = stallpoint::studies::surge::surge_study(&drive).unwrap();
    for c in &study.checks {
        println!(
            "{:60} {:?} {:?} {} {:?} {} | {} | {}",
            c.requirement, c.value, c.limit, c.unit, c.margin, c.verdict, c.basis, c.when
        );
    }
    for (n, r) in study.directions[0].named() {
        println!("{n} {:?}", r.counters);
    }
    for p in &study.peaks {
        println!("{:?}", p);
    }
}
