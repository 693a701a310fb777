//! Interrupting capacity by the battery, ABYC E-11 table V-A.

use stallpoint::tables::interrupting::least_capacity;

use super::reference::csv;

#[test]
fn val_least_capacity_by_cold_cranking_amperes() {
    for row in csv("breaker_interrupting_by_battery.csv", 3) {
        let number = |k: usize| row[k].parse::<f64>().ok();
        let (low, high) = (number(0).unwrap().max(1.0), number(1));
        for amperes in [low, high.unwrap_or(3000.0)] {
            for volts in [12.0, 24.0] {
                let found = least_capacity(amperes, volts).unwrap();
                assert_eq!((found.main_a, found.branch_a), (number(2).unwrap(), number(3).unwrap()), "{amperes} A");
            }
        }
    }
    assert!(least_capacity(800.0, 36.0).is_none() && least_capacity(0.0, 12.0).is_none());
}
