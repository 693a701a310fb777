//! Trailing cables against 30 CFR 75.601-3.

use crate::reference::csv;
use stallpoint::quantity::ConductorSize;
use stallpoint::tables::ampacity::{trailing_cable, trailing_cables};

#[test]
fn val_trailing_cables_are_the_regulations_rows() {
    let rows = csv("ampacity_trailing_cable.csv", 13);
    assert_eq!(trailing_cables().len(), rows.len());
    for row in rows {
        let size: ConductorSize = format!("{} AWG", row["awg"]).parse().unwrap();
        let ours = trailing_cable(size).unwrap();
        let printed = |column: &str| row[column].parse::<f64>().ok();
        assert_eq!(ours.single_ampacity_a, printed("single_conductor_ampacity_A"), "{size}");
        assert_eq!(ours.single_max_fuse_a, printed("single_max_fuse_A"), "{size}");
        assert_eq!(Some(ours.two_conductor_ampacity_a), printed("two_conductor_ampacity_A"), "{size}");
        assert_eq!(Some(ours.two_conductor_max_fuse_a), printed("two_max_fuse_A"), "{size}");
    }
    assert!(trailing_cable(ConductorSize::Metric { mm2: 35.0 }).is_none());
}
