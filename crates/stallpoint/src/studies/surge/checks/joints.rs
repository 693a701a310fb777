//! Whether a joint can run away thermally.

use super::super::facts::DirectionFacts;
use super::super::volts::{Drop, Group};
use super::{at, not_reached};
use crate::report::{Check, Side, Verdict};

/// Voltages across a joint under continuous current at which joints were seen to become unstable, V: the least, the mean and
/// the largest (published band for corroded joints, read in public text on electric contacts; our notes name R. Holm and
/// P. G. Slade without saying which).
const BAND: [f64; 3] = [0.010, 0.028, 0.030];

/// The worst joint of the loop at the end of the hold. Below the band it passes and above it fails; within it is marginal,
/// as the band is for continuous current and most joints get to its upper end.
pub(crate) fn check(facts: &DirectionFacts) -> Check {
    let requirement = "No joint can run away thermally";
    let when = |rest: &str| format!("{} {}, {}{rest}", facts.held, facts.direction, at(facts.hold));
    let size = |drop: &&Drop| drop.volts.abs();
    let joints = facts.volts_at_end.drops.iter().filter(|drop| drop.group == Group::Joints);
    let worst = joints.max_by(|one, other| size(one).total_cmp(&size(other)));
    let check = match (worst, facts.held.unsettled()) {
        (Some(worst), None) => {
            let [least, mean, most] = BAND;
            let basis = format!(
                "published band for corroded joints under continuous current: {:.0} to {:.0} mV, {:.0} mV in the mean \
                 (as read in public text on electric contacts)",
                least * 1e3,
                most * 1e3,
                mean * 1e3
            );
            let drop = worst.volts.abs();
            let when = when(&format!(", {}", worst.element));
            let limit = if drop < least { least } else { most };
            let check = Check::against(requirement, drop, Side::AtMost, limit, "V", basis, when);
            if drop >= least && check.met() { check.judged(Verdict::Marginal) } else { check }
        }
        (_, Some(why)) => Check::missing(requirement, None, "V", why, when("")),
        (None, None) => Check::missing(requirement, None, "V", "the loop has no joint", when("")),
    };
    let check = check.keyed("joint_stability").at_time(facts.hold);
    if facts.pulls_in() { check } else { not_reached(check) }
}
