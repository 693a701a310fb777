//! When the battery's management cuts off, whichever place says it.

use super::description::Drive;
use crate::error::PartError;

/// A level, how long it must last, and where it is said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Level {
    /// A or V.
    pub(crate) level: f64,
    /// s.
    pub(crate) delay: f64,
    /// Key of the level in the drive's file.
    pub(crate) key: &'static str,
}

impl Drive {
    /// Refuses limits that say once more what the battery's own cut-off says, and a delay of no current.
    pub(super) fn check_cut_off(&self) -> Result<(), PartError> {
        let limits = &self.limits;
        let given = [
            ("battery_over_current", limits.battery_over_current.is_some()),
            ("battery_over_current_delay", limits.battery_over_current_delay.is_some()),
            ("battery_under_voltage", limits.battery_under_voltage.is_some()),
        ];
        match given.iter().find(|(_, given)| *given) {
            Some((name, _)) if self.battery.cut_off.is_some() => Err(PartError::Description {
                problem: format!("`{name}` is given beside the battery's own `cut_off`, which says the same"),
                advice: "leave it out: the requirements are held against `battery.cut_off`".into(),
            }),
            _ if limits.battery_over_current_delay.is_some() && limits.battery_over_current.is_none() => {
                Err(PartError::Description {
                    problem: "`battery_over_current_delay` is given without `battery_over_current`".into(),
                    advice: "give the current that lasts so long, or neither".into(),
                })
            }
            _ => Ok(()),
        }
    }

    /// The current at which the battery's management cuts off: the battery's own, else the limits'.
    pub(crate) fn over_current(&self) -> Option<Level> {
        if let Some(own) = &self.battery.cut_off {
            let (level, delay) = (own.over_current.si(), own.over_current_delay.si());
            return Some(Level { level, delay, key: "battery.cut_off.over_current" });
        }
        let level = self.limits.battery_over_current?.si();
        let delay = self.limits.battery_over_current_delay.map_or(0.0, |delay| delay.si());
        Some(Level { level, delay, key: "limits.battery_over_current" })
    }

    /// The voltage at which it does.
    pub(crate) fn under_voltage(&self) -> Option<Level> {
        if let Some(own) = &self.battery.cut_off {
            let (level, delay) = (own.under_voltage.si(), own.under_voltage_delay.si());
            return Some(Level { level, delay, key: "battery.cut_off.under_voltage" });
        }
        let level = self.limits.battery_under_voltage?.si();
        Some(Level { level, delay: 0.0, key: "limits.battery_under_voltage" })
    }
}
