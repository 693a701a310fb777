use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::parts::Fuse;
use stallpoint::studies::surge::surge_study;
use stallpoint::tables::trip_gates::FuseClass;

#[test]
fn explore() {
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    for rated in ["40 A", "60 A", "80 A"] {
    drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, rated).unwrap()).unwrap();
    let study = surge_study(&drive).unwrap();
    println!("{}", study.to_text());
    for run in &study.directions { println!("{:?}", run.start.surge); println!("{:?}", run.start.run.events); }
    }
}
