//! Which swaps of wires reverse a drive.

use super::Motor;

/// A pair of wires of a drive that were swapped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swap {
    /// The two wires from the contactor to the motor's armature.
    MotorWires,
    /// The two signal wires to the contactor's coils.
    SignalWires,
    /// Both pairs.
    MotorAndSignalWires,
    /// Supply and ground, at the battery: everything behind it, fields too, sees the other polarity. Coils still pull in, but
    /// a diode across a coil conducts and keeps it from doing so.
    SupplyAndGround,
}

impl Swap {
    /// Every swap.
    pub const ALL: [Self; 4] = [Self::MotorWires, Self::SignalWires, Self::MotorAndSignalWires, Self::SupplyAndGround];
}

impl Motor {
    /// Whether a swap reverses the motor when its wound field, if any, lies outside the contactor's motor studs, as
    /// [`Drive`](crate::drive::Drive) wires it.
    ///
    /// | swap | permanent magnets | series, shunt, compound |
    /// | --- | --- | --- |
    /// | motor wires | reverses | reverses |
    /// | signal wires | reverses | reverses |
    /// | both | does not | does not |
    /// | supply and ground | reverses | does not |
    ///
    /// A series motor whose field and armature are joined inside and leave only two leads reverses on none of them.
    ///
    /// # Example
    /// ```
    /// use stallpoint::drive::{BOAT_LIFT, Drive};
    /// use stallpoint::parts::motor::Swap;
    ///
    /// let drive = Drive::from_toml_str(BOAT_LIFT)?;
    /// assert!(drive.motor.reverses_on(Swap::SupplyAndGround));
    /// assert!(!drive.motor.reverses_on(Swap::MotorAndSignalWires));
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn reverses_on(&self, swap: Swap) -> bool {
        match swap {
            Swap::MotorWires | Swap::SignalWires => true,
            Swap::MotorAndSignalWires => false,
            // A wound field turns round with the armature, so that their product does not.
            Swap::SupplyAndGround => matches!(self, Self::PermanentMagnet(_)),
        }
    }
}
