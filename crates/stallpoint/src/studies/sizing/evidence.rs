//! What is found out of one circuit, before any rating is looked at.

use super::SizingOptions;
use super::ratings::without_ratings;
use crate::circuit::{Flow, Watcher};
use crate::drive::{Direction, Drive};
use crate::error::Error;
use crate::parts::Joint;
use crate::quantity::{Fraction, Temperature};
use crate::studies::surge::{DirectionRuns, Facts, LockedRotor};

/// What needs no transient: the locked rotor both ways, and the fault current.
#[derive(Debug, Clone, PartialEq)]
pub struct Statics {
    /// Shaft blocked, contactor held, joints as described, forward and reverse.
    pub locked: [LockedRotor; 2],
    /// Torque that moves the load, N·m, forward and reverse.
    pub breakaway: [f64; 2],
    /// Steady current of a dead short across the motor studs, contactor held, forward and reverse, A.
    pub stud_short: [f64; 2],
    /// Steady current of a dead short right behind the breaker in the opposite corner, A: battery full and at 25 °C or
    /// warmer, joints as new, cables at 20 °C or colder.
    pub fault_current: f64,
}

/// Everything that the requirements look at.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// What needed no transient.
    pub statics: Statics,
    /// What the runs showed, the breaker held closed.
    pub facts: Facts,
}

/// The second winding temperature at which a locked rotor is looked at, above the first, K. Any serves.
const WARMER: f64 = 100.0;

impl Statics {
    pub(super) fn of(bare: &Drive, joint: &str) -> Result<Self, Error> {
        let warm = bare.motor.armature().winding_temperature_c.si() + WARMER;
        let [forward, reverse] = Direction::BOTH;
        let locked = |direction| LockedRotor::of(bare, direction, joint, warm);
        Ok(Self {
            locked: [locked(forward)?, locked(reverse)?],
            breakaway: [bare.breakaway(forward), bare.breakaway(reverse)],
            stud_short: [bare.stud_short(forward)?, bare.stud_short(reverse)?],
            fault_current: opposite(bare).dead_short()?,
        })
    }
}

/// The drive where its fault current is largest.
fn opposite(drive: &Drive) -> Drive {
    let mut strong = drive.clone();
    strong.battery.state_of_charge = Fraction::from_si(1.0);
    strong.battery.temperature_c = Temperature::from_si(strong.battery.temperature_c.si().max(25.0));
    for cable in [&mut strong.battery_lead, &mut strong.isolator_lead].into_iter().flatten() {
        cable.temperature_c = Temperature::from_si(cable.temperature_c.si().min(20.0));
    }
    for joint in strong.joints.values_mut() {
        *joint = Joint::default();
    }
    strong
}

impl Evidence {
    pub(super) fn of(bare: &Drive, statics: Statics, options: &SizingOptions, watcher: Watcher) -> Result<Self, Error> {
        let [forward, reverse] = Direction::BOTH;
        let mut make = |direction| DirectionRuns::make(bare, direction, &options.surge, &mut *watcher);
        let runs = [make(forward)?, make(reverse)?];
        let facts = Facts { fault_current: statics.fault_current, ..Facts::of(bare, &runs)? };
        Ok(Self { statics, facts })
    }

    /// Runs a drive with its breaker held closed and takes what the requirements look at.
    ///
    /// # Errors
    /// A description that cannot be a drive; a run whose equations cannot be solved on.
    pub fn gather(drive: &Drive, options: &SizingOptions) -> Result<Self, Error> {
        let bare = without_ratings(drive)?;
        let statics = Statics::of(&bare, &options.surge.joint)?;
        Self::of(&bare, statics, options, &mut |_| Flow::Continue)
    }
}
