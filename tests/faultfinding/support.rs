use std::sync::{Arc, OnceLock};

use stallpoint::circuit::Flow;
use stallpoint::drive::{BOAT_LIFT, Drive, Fault};
use stallpoint::studies::faultfinding::{FaultTable, Held, Measurement, Observed, TableOptions, Tool};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

/// A small table of the boat lift, made once.
pub fn table() -> Arc<FaultTable> {
    static TABLE: OnceLock<Arc<FaultTable>> = OnceLock::new();
    let options = TableOptions { draws: 4, ..TableOptions::default() };
    TABLE.get_or_init(|| Arc::new(FaultTable::build(&boat_lift(), &options, &mut |_| Flow::Continue).unwrap())).clone()
}

pub fn volts(held: Held, plus: &str, minus: &str) -> Measurement {
    Measurement::between(Tool::Voltmeter, held, plus, minus)
}

/// What an instrument shows on the boat lift with a fault.
pub fn shown(fault: &Fault, measurement: &Measurement) -> Observed {
    let bad = boat_lift().with_fault(fault).unwrap();
    table().shown(&bad, measurement).unwrap()
}

pub fn number(observed: &Observed) -> f64 {
    match observed {
        Observed::Number(value) => *value,
        word => panic!("a number, not {word}"),
    }
}
