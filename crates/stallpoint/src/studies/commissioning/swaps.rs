//! What swapped wires do to the direction.

use crate::drive::{Alterations, Direction, Drive};
use crate::error::Error;
use crate::report::Table;

/// What a drive does with some wires swapped.
#[derive(Debug, Clone, PartialEq)]
pub struct SwapRow {
    /// Whether the two motor leads are swapped.
    pub motor_wires: bool,
    /// Whether the two signal wires are swapped.
    pub signal_wires: bool,
    /// Whether supply and ground are swapped at the contactor's studs.
    pub supply_and_ground: bool,
    /// Whether supply and ground are swapped at the battery's posts.
    pub battery: bool,
    /// Sign of the speed with the control forward and in reverse: 1 forward, -1 backward, 0 for a motor that stands.
    pub turns: [i8; 2],
}

impl SwapRow {
    /// Whether the drive turns the wrong way in both positions of its control.
    pub fn reversed(&self) -> bool {
        self.turns == [-1, 1]
    }
}

/// Speed below which the motor stands, rad/s.
const STANDS: f64 = 1.0;

/// The truth table of swaps to direction: all sixteen combinations of motor leads, signal wires, supply with ground at the
/// contactor, and supply with ground at the battery, each from the drive's own operating points.
///
/// A permanent-magnet motor turns the other way with an odd number of pairs swapped. A series field in the supply lead turns
/// with the battery, so that its posts swapped leave the direction; studs swapped at the contactor turn the armature alone, and
/// reverse it. With swapped posts a diode across a coil conducts: nothing pulls in. With the coils' return on the ground stud,
/// swapped studs put both ends of a coil on supply: nothing pulls in either.
///
/// # Errors
/// A description that cannot be a drive; no operating point.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::commissioning::swap_table;
///
/// for row in swap_table(&Drive::from_toml_str(BOAT_LIFT)?)? {
///     let odd = row.motor_wires ^ row.signal_wires ^ row.supply_and_ground;
///     assert_eq!(row.reversed(), odd && !row.battery); // the coils' diodes conduct
/// }
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn swap_table(drive: &Drive) -> Result<Vec<SwapRow>, Error> {
    let mut rows = Vec::new();
    for bits in 0..16u8 {
        let [motor_wires, signal_wires, supply_and_ground, battery] = [1, 2, 4, 8].map(|bit| bits & bit != 0);
        let mut own = drive.clone();
        own.faults = Alterations {
            motor_wires_swapped: motor_wires,
            signal_wires_swapped: signal_wires,
            supply_and_ground_swapped: supply_and_ground,
            battery_reversed: battery,
            ..Alterations::default()
        };
        let turns = Direction::BOTH.map(|direction| -> Result<i8, Error> {
            let speed = own.operating_point(Some(direction), &Default::default())?.state("motor", "speed")?;
            Ok(if speed.abs() < STANDS { 0 } else { speed.signum() as i8 })
        });
        let [forward, reverse] = turns;
        rows.push(SwapRow { motor_wires, signal_wires, supply_and_ground, battery, turns: [forward?, reverse?] });
    }
    Ok(rows)
}

/// The truth table as a table of a report.
pub(super) fn table(rows: &[SwapRow]) -> Table {
    let mut table =
        Table::new(6, ["motor wires", "signal wires", "studs", "battery posts", "control forward", "control reverse"]);
    let word = |swapped: bool| if swapped { "swapped" } else { "right" };
    let turns = |sign: i8| match sign {
        1 => "turns forward",
        -1 => "turns backward",
        _ => "stands",
    };
    for row in rows {
        let [forward, reverse] = row.turns.map(turns);
        table.row([
            word(row.motor_wires),
            word(row.signal_wires),
            word(row.supply_and_ground),
            word(row.battery),
            forward,
            reverse,
        ]);
    }
    table
}
