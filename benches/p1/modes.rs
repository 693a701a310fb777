//! Mode changes of the drive.

use super::contact::Gap;
use super::drive::Drive;
use super::parameters::{DROP_OUT, PULL_IN};
use super::relay::{Due, Phase};
use super::unknowns::{LAM, VBI, VK, VMA, VMB, VN, VP};

/// Places of the contacts in [`Drive::gaps`].
pub const A_PLUS: usize = 0;
pub const A_MINUS: usize = 1;
pub const B_PLUS: usize = 2;
pub const CONTROL: usize = 3;
/// Nodes of each contact.
pub const ENDS: [(usize, usize); 4] = [(VP, VMA), (VMA, VN), (VP, VMB), (VBI, VK)];

/// Pull-in, drop-out, and two for each contact.
pub const GUARDS: usize = 2 + 2 * ENDS.len();

impl Drive {
    /// Voltage across a contact.
    fn across(&self, contact: usize, x: &[f64]) -> f64 {
        let (a, b) = ENDS[contact];
        x[a] - x[b]
    }

    fn open(&mut self, contact: usize, x: &[f64]) {
        let current = self.gaps[contact].law(self.across(contact, x)).0;
        self.gaps[contact].open(self.variant.arcs, current);
    }

    pub(super) fn write_guards(&self, t: f64, x: &[f64], out: &mut [f64]) {
        let ic = x[LAM] / self.relay.inductance(t);
        out[0] = if self.relay.phase == Phase::Rest { ic - PULL_IN } else { -1.0 };
        out[1] = if self.relay.phase == Phase::Sealed { DROP_OUT - ic } else { -1.0 };
        for (contact, pair) in out[2..].chunks_exact_mut(2).enumerate() {
            pair.copy_from_slice(&self.gaps[contact].guards(self.across(contact, x)));
        }
    }

    pub(super) fn guard_fired(&mut self, guard: usize, t: f64, x: &[f64]) {
        match (guard, self.relay.phase) {
            (0, Phase::Rest) => {
                self.relay.phase = Phase::Pull(t);
                self.leave(A_MINUS, t, x);
            }
            (1, Phase::Sealed) => {
                self.relay.phase = Phase::Release(t);
                self.drop_outs.push(t);
                self.leave(A_PLUS, t, x);
            }
            (2.., _) => {
                let (contact, backwards) = ((guard - 2) / 2, (guard - 2) % 2 == 1);
                self.arc_events += u32::from(self.gaps[contact].fire(backwards));
            }
            _ => {}
        }
    }

    /// A moving contact leaves its seat; it no longer bounces.
    fn leave(&mut self, contact: usize, t: f64, x: &[f64]) {
        self.open(contact, x);
        self.relay.bounce = None;
        self.events.push(t);
    }

    /// Everything scheduled up to now.
    pub(super) fn due(&mut self, t: f64, x: &[f64]) {
        while let Some((_, due)) = self.relay.next().filter(|&(at, _)| at <= t) {
            self.events.push(t);
            match due {
                Due::Control => {
                    if self.relay.controls == 0 {
                        self.gaps[CONTROL] = Gap::Closed;
                    } else {
                        self.open(CONTROL, x);
                    }
                    self.relay.controls += 1;
                }
                Due::TravelEnds => {
                    let pulled = matches!(self.relay.phase, Phase::Pull(_));
                    self.relay.phase = if pulled { Phase::Sealed } else { Phase::Rest };
                    self.gaps[self.seat()] = Gap::Closed;
                    self.relay.bounce = Some((t, 0));
                }
                Due::Bounce => {
                    let seat = self.seat();
                    if self.relay.bounced() {
                        self.gaps[seat] = Gap::Closed;
                    } else {
                        self.open(seat, x);
                    }
                }
            }
        }
    }

    /// The contact that the armature rests on.
    fn seat(&self) -> usize {
        if self.relay.phase == Phase::Sealed { A_PLUS } else { A_MINUS }
    }
}
