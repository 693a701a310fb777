//! Places of the 26 unknowns; row `i` is the balance that belongs to unknown `i`.

/// Nodes: battery positive, after isolator, after joint J1, breaker out, after J2.
pub const VB: usize = 0;
pub const VD: usize = 1;
pub const VBI: usize = 2;
pub const VBO: usize = 3;
pub const VC0: usize = 4;
/// After the cable's resistance, after its inductance, supply stud.
pub const VC1: usize = 5;
pub const VC2: usize = 6;
pub const VP: usize = 7;
/// Moving contacts, which are the motor's studs.
pub const VMA: usize = 8;
pub const VMB: usize = 9;
/// Ground stud, after the return's resistance, after its inductance, after J4.
pub const VN: usize = 10;
pub const VR1: usize = 11;
pub const VR2: usize = 12;
pub const VG: usize = 13;
/// Coil positive.
pub const VK: usize = 14;
/// After the armature's resistance, after its inductance. The row of `VA2` is the back-EMF's equation: its balance would
/// only say that `IM` is `IM`.
pub const VA1: usize = 15;
pub const VA2: usize = 16;
/// Battery current, the one algebraic branch current.
pub const IB: usize = 17;
/// States: polarisation voltage, currents of cable, motor and return, coil flux linkage, speed, winding temperature,
/// breaker's thermal state.
pub const U1: usize = 18;
pub const IL1: usize = 19;
pub const IM: usize = 20;
pub const IR: usize = 21;
pub const LAM: usize = 22;
pub const OM: usize = 23;
pub const TW: usize = 24;
pub const TH: usize = 25;

/// Number of unknowns.
pub const N: usize = 26;

pub const NAMES: [&str; N] = [
    "VB", "VD", "VBI", "VBO", "VC0", "VC1", "VC2", "VP", "VMA", "VMB", "VN", "VR1", "VR2", "VG", "VK", "VA1", "VA2",
    "IB", "U1", "IL1", "IM", "IR", "LAM", "OM", "TW", "TH",
];

/// Sizes that matter, from the reference run: volts of the battery, amperes of the start, radians per second of the run.
pub const SCALE: [f64; N] = [
    12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 183.0, 1.0,
    183.0, 183.0, 183.0, 0.05, 166.0, 100.0, 1.0,
];
