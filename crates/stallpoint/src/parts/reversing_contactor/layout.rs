//! Where everything of a reversing contactor lies: local values, numbers of memory, guards.

use super::super::Contact;
use super::super::coil::Leads;

pub(super) const SUPPLY: usize = 0;
pub(super) const GROUND: usize = 1;
pub(super) const MOTOR_A: usize = 2;
pub(super) const MOTOR_B: usize = 3;
pub(super) const COIL_A: usize = 4;
pub(super) const COIL_B: usize = 5;
pub(super) const COIL_RETURN: usize = 6;
const CONTACT_CURRENTS: usize = 7;

/// One power contact: its studs and its words.
pub(super) struct Site {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) words: &'static str,
}

pub(super) const SUPPLY_A: usize = 0;
pub(super) const GROUND_A: usize = 1;
pub(super) const SUPPLY_B: usize = 2;
pub(super) const GROUND_B: usize = 3;

/// The four power contacts.
pub(super) const SITES: [Site; 4] = [
    Site { from: SUPPLY, to: MOTOR_A, words: "supply to motor A" },
    Site { from: GROUND, to: MOTOR_A, words: "ground to motor A" },
    Site { from: SUPPLY, to: MOTOR_B, words: "supply to motor B" },
    Site { from: GROUND, to: MOTOR_B, words: "ground to motor B" },
];
pub(super) const CURRENT_NAMES: [&str; 4] =
    ["supply_a_current", "ground_a_current", "supply_b_current", "ground_b_current"];

/// Local value of a contact's current.
pub(super) const fn contact_current(contact: usize) -> usize {
    CONTACT_CURRENTS + contact
}

/// Local values of the coils A and B.
pub(super) const LEADS: [Leads; 2] = [
    Leads { plus: COIL_A, minus: COIL_RETURN, flux: 11, suppressor: 12 },
    Leads { plus: COIL_B, minus: COIL_RETURN, flux: 13, suppressor: 14 },
];
pub(super) const COIL_UNKNOWNS: [(&str, &str); 2] =
    [("coil_a_flux", "coil_a_suppressor_current"), ("coil_b_flux", "coil_b_suppressor_current")];

/// Numbers of an armature: its phase, when it was entered, when it ends, which toggle of the bounce comes next.
pub(super) const PHASE: usize = 0;
pub(super) const SINCE: usize = 1;
pub(super) const ENDS: usize = 2;
pub(super) const NEXT_BOUNCE: usize = 3;
pub(super) const ARMATURE_NUMBERS: usize = 4;

/// Numbers of a contact within the memory.
pub(super) fn contact_numbers(contact: usize) -> std::ops::Range<usize> {
    let first = contact * Contact::NUMBERS;
    first..first + Contact::NUMBERS
}

/// Numbers of an armature within the memory.
pub(super) fn armature_numbers(armature: usize) -> std::ops::Range<usize> {
    let first = SITES.len() * Contact::NUMBERS + armature * ARMATURE_NUMBERS;
    first..first + ARMATURE_NUMBERS
}

pub(super) const CONTACT_GUARDS: usize = SITES.len() * Contact::GUARDS.len();

/// Guards: those of the contacts in order, then two of each coil.
pub(super) const GUARDS: [&str; CONTACT_GUARDS + 4] = [
    "arc goes out, supply to motor A",
    "arc strikes forward, supply to motor A",
    "arc strikes backward, supply to motor A",
    "arc goes out, ground to motor A",
    "arc strikes forward, ground to motor A",
    "arc strikes backward, ground to motor A",
    "arc goes out, supply to motor B",
    "arc strikes forward, supply to motor B",
    "arc strikes backward, supply to motor B",
    "arc goes out, ground to motor B",
    "arc strikes forward, ground to motor B",
    "arc strikes backward, ground to motor B",
    "coil A pulls in",
    "coil A drops out",
    "coil B pulls in",
    "coil B drops out",
];

/// Guards of a contact.
pub(super) fn contact_guards(contact: usize) -> std::ops::Range<usize> {
    let first = contact * Contact::GUARDS.len();
    first..first + Contact::GUARDS.len()
}

/// Index of the guard by which an armature is pulled in; the next one drops it out.
pub(super) const fn pull_guard(armature: usize) -> usize {
    CONTACT_GUARDS + 2 * armature
}
