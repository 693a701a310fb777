//! A ready-made corner: the day on which everything is against the drive.

use serde_json::Value;

use super::corners::Corner;
use crate::drive::Drive;

/// How bad the worst day is. The defaults are typical, without a source: give your own.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sizing::{SizingOptions, WorstDay, assess};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let options = SizingOptions { corners: vec![WorstDay::default().corner(&drive)], ..Default::default() };
/// let (worst, fine) = (assess(&drive, &options)?, assess(&drive, &SizingOptions::default())?);
/// assert!(worst.of("breakaway").unwrap().margin < fine.of("breakaway").unwrap().margin);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorstDay {
    /// State of charge, from 0 to 1, where the description has more.
    pub state_of_charge: f64,
    /// Factor of the battery's series resistance: cold and aged.
    pub battery_resistance: f64,
    /// Temperature of cables and coils, °C, where the description has less.
    pub hot_c: f64,
    /// Least resistance of every joint, ohm: aged.
    pub joint: f64,
    /// Factor of the loads' torques and masses.
    pub load: f64,
}

impl Default for WorstDay {
    fn default() -> Self {
        Self { state_of_charge: 0.5, battery_resistance: 1.5, hot_c: 70.0, joint: 1e-3, load: 1.2 }
    }
}

impl WorstDay {
    /// The corner of a drive, named "worst day": weak cold battery, hot cables and coils, aged joints, high load, all at once. Both
    /// directions are judged in every corner, the harder one with them. Brakes by speed, fans and stops stay as they are; a pump is
    /// loaded to just below its relief pressure at most.
    pub fn corner(&self, drive: &Drive) -> Corner {
        let mut values: Vec<(String, Value)> = Vec::new();
        let mut set = |key: &str, value: f64| values.push((key.to_owned(), Value::from(value)));
        set("battery.state_of_charge", self.state_of_charge.min(drive.battery.state_of_charge.si()));
        set("battery.series_resistance", self.battery_resistance * drive.battery.series_resistance.si());
        for (name, cable) in drive.cables() {
            set(&format!("{name}.temperature_c"), self.hot_c.max(cable.temperature_c.si()));
        }
        set("contactor.coil.temperature_c", self.hot_c.max(drive.contactor.coil.temperature_c.si()));
        for name in drive.joint_names() {
            let own = drive.joints.get(name).cloned().unwrap_or_default();
            set(&format!("{name}.resistance"), self.joint.max(own.resistance.si()));
        }
        for (number, load) in drive.load.iter().enumerate() {
            for (field, value) in load.about().heavier(self.load) {
                set(&format!("load.{number}.{field}"), value);
            }
        }
        Corner { name: "worst day".into(), values }
    }
}
