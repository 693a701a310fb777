//! The discrete states of a pump's circuit: where the load is, and whether the relief valve is open.

use crate::circuit::Memory;

/// What the load does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Load {
    /// Stands on its check valve.
    Held,
    Forward,
    Backward,
    /// Stands at the end of its stroke.
    ForwardEnd,
    BackwardEnd,
}

/// What the relief valve does, by the sign of the pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Relief {
    Closed,
    Forward,
    Backward,
}

const LOADS: [Load; 5] = [Load::Held, Load::Forward, Load::Backward, Load::ForwardEnd, Load::BackwardEnd];
const RELIEFS: [Relief; 3] = [Relief::Closed, Relief::Forward, Relief::Backward];

/// Both as one mode of a memory.
pub(super) fn memory(load: Load, relief: Relief) -> Memory {
    let (load, relief) = (LOADS.iter().position(|l| *l == load), RELIEFS.iter().position(|r| *r == relief));
    Memory::new((load.unwrap_or(0) * RELIEFS.len() + relief.unwrap_or(0)) as u32, [])
}

/// The two that a memory holds; at rest where the mode is none of ours.
pub(super) fn read(memory: &Memory) -> (Load, Relief) {
    let mode = memory.mode as usize;
    let load = LOADS.get(mode / RELIEFS.len()).copied().unwrap_or(Load::Held);
    (load, RELIEFS[mode % RELIEFS.len()])
}

impl Load {
    /// Direction in which it moves: +1, -1, or 0 when it stands.
    pub(super) fn way(self) -> f64 {
        match self {
            Self::Forward => 1.0,
            Self::Backward => -1.0,
            _ => 0.0,
        }
    }
}

impl Relief {
    /// Sign of the pressure it opens on; 0 when closed.
    pub(super) fn way(self) -> f64 {
        match self {
            Self::Closed => 0.0,
            Self::Forward => 1.0,
            Self::Backward => -1.0,
        }
    }
}
