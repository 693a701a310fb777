//! What a data sheet says of a reversing contactor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::{Coil, Contact, above_zero, in_range, quantity};
use super::detailed::MovingArmature;
use super::duty_rating::DutyRating;
use super::faults::ContactorFaults;
use crate::circuit::Part;
use crate::error::{Error, PartError};
use crate::quantity::{Current, IntoQuantity, Time, Voltage};

/// Where the contacts are while no coil is energised.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RestPosition {
    /// Both motor studs on the ground stud: the motor is short-circuited and brakes. A coil lifts its stud off ground and
    /// puts it on supply.
    #[default]
    Braked,
    /// Nothing closed: the motor coasts. Coil A closes supply to motor A and ground to motor B, coil B the other two.
    Open,
}

/// How long a contactor may stay energised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ContactorDuty {
    /// Without limit.
    Continuous,
    /// For a time only.
    Intermittent,
}

/// A reversing contactor: two changeover contact sets driven by coil A (forward) and coil B (reverse).
///
/// Terminals, in order: `supply`, `ground`, `motor_a`, `motor_b`, `coil_a`, `coil_b`, `coil_return`.
///
/// Each armature goes round
/// ```text
/// rest    -- |i| above pull-in current  --> pull:    what must open opens at once
/// pull    -- operate_time over          --> sealed:  what must close closes, and bounces
/// sealed  -- |i| below drop-out current --> release: what was closed opens at once
/// release -- release_time over          --> rest:    on ground again (when rest is braked), and bounces
/// ```
/// A condition already true when a phase begins counts, so that a coil whose voltage sags on closing chatters. The
/// currents are constant, from data-sheet voltages at 20 °C, `I = U / R_20`: a hot coil needs more voltage. A coil pulls
/// in with either polarity. Break comes before make: both contacts of a motor stud are never closed together (when rest
/// is open and the interlock is off, both coils at once still short the supply).
///
/// The contacts follow [`Contact`]: opening with current draws an arc. The armature's position rises and falls smoothly
/// (`3u² - 2u³`) over the operate and the release time and moves the coil's inductance with it; see [`Coil`].
///
/// States: the contact currents `supply_a_current`, `ground_a_current`, `supply_b_current`, `ground_b_current` (positive
/// towards the motor stud), `coil_a_flux`, `coil_a_suppressor_current`, the same for B. Probes: `coil_a_voltage`,
/// `coil_a_current`, `armature_a_position`, the same for B, and `supply_a_closed` (1 or 0) and so on for each contact.
///
/// With [`detailed`](MovingArmature) the armatures move by their forces; then there are more states.
///
/// Limits of the quick fidelity: a pull or a release once begun goes through to its end, whatever the current does meanwhile;
/// the times do not depend on the voltage beyond the coil's own rise and decay, which come on top of them.
///
/// Source: the sequence follows the trade's data sheets; defaults say typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::{Coil, ReversingContactor};
///
/// let contactor = ReversingContactor::new(Coil::new("12 V", "24 ohm")?, "8 V", "4 V")?;
/// assert!((contactor.pull_in_voltage_at(20.0) - 8.0).abs() < 1e-12);
/// assert!(contactor.pull_in_voltage_at(90.0) > 10.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReversingContactor {
    /// Each of the two coils.
    pub coil: Coil,
    /// Voltage at which it pulls in with its coil at 20 °C, V.
    pub pull_in_voltage: Voltage,
    /// Voltage at which it drops out with its coil at 20 °C, V.
    pub drop_out_voltage: Voltage,
    /// Highest voltage at which it may drop out, from the data sheet, V.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub highest_drop_out_voltage: Option<Voltage>,
    /// Position at rest.
    #[serde(default)]
    pub rest: RestPosition,
    /// Whether one armature away from rest bars the other from being pulled in.
    #[serde(default = "yes")]
    pub interlock: bool,
    /// Each of the four power contacts.
    #[serde(default)]
    pub contacts: Contact,
    /// From pull-in current to first touch, s (default typical, no source).
    #[serde(default = "operate_time")]
    pub operate_time: Time,
    /// From drop-out current back to rest, s (default typical, no source).
    #[serde(default = "release_time")]
    pub release_time: Time,
    /// Times after first touch at which a closing contact opens, closes, … s: rising, an even number of them; none for
    /// contacts without bounce (default typical, no source).
    #[serde(default = "bounce")]
    pub bounce: Vec<Time>,
    /// Highest current it may make, A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub making_current: Option<Current>,
    /// Highest current it may carry, A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carrying_current: Option<Current>,
    /// Highest current it may break, A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breaking_current: Option<Current>,
    /// Duty of coil and contacts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<ContactorDuty>,
    /// Moves the armatures by their forces instead of fixed times.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub detailed: Option<MovingArmature>,
    /// What is wrong with it.
    #[serde(default, skip_serializing_if = "ContactorFaults::is_healthy")]
    pub faults: ContactorFaults,
    /// What the data sheet says of time and heat; only studies use it.
    #[serde(default, skip_serializing_if = "DutyRating::is_empty")]
    pub duty_rating: DutyRating,
}

fn yes() -> bool {
    true
}

// The three below: typical, no source.
fn operate_time() -> Time {
    Time::from_si(20e-3)
}

fn release_time() -> Time {
    Time::from_si(15e-3)
}

fn bounce() -> Vec<Time> {
    [0.5e-3, 1.0e-3, 1.5e-3, 2.0e-3, 2.5e-3, 3.0e-3].map(Time::from_si).to_vec()
}

/// Longest list of bounces.
const MOST_BOUNCES: usize = 32;

impl ReversingContactor {
    /// A contactor with the data-sheet voltages of its coils, braked at rest, interlocked.
    ///
    /// # Errors
    /// A wrong unit; voltages not above zero; a drop-out voltage not below the pull-in voltage.
    pub fn new(
        coil: Coil,
        pull_in_voltage: impl IntoQuantity<Voltage>,
        drop_out_voltage: impl IntoQuantity<Voltage>,
    ) -> Result<Self, Error> {
        let contactor = Self {
            coil,
            pull_in_voltage: quantity("pull_in_voltage", pull_in_voltage)?,
            drop_out_voltage: quantity("drop_out_voltage", drop_out_voltage)?,
            highest_drop_out_voltage: None,
            rest: RestPosition::default(),
            interlock: true,
            contacts: Contact::default(),
            operate_time: operate_time(),
            release_time: release_time(),
            bounce: bounce(),
            making_current: None,
            carrying_current: None,
            breaking_current: None,
            duty: None,
            detailed: None,
            faults: ContactorFaults::default(),
            duty_rating: DutyRating::default(),
        };
        contactor.check()?;
        Ok(contactor)
    }

    /// Coil current at which it pulls in, A.
    pub fn pull_in_current(&self) -> f64 {
        self.pull_in_voltage.si() / self.coil.resistance.si()
    }

    /// Coil current at which it drops out, A.
    pub fn drop_out_current(&self) -> f64 {
        self.drop_out_voltage.si() / self.coil.resistance.si()
    }

    /// Current of coil A (`forward`) or B at which its armature drops out with the coil's own faults, A: with shorted turns
    /// the same ampere-turns need more of it.
    pub fn faulty_drop_out_current(&self, forward: bool) -> f64 {
        self.drop_out_current() / self.faults.coil(usize::from(!forward)).turns_left()
    }

    /// Steady coil voltage needed to pull in with the coil at a temperature, V.
    pub fn pull_in_voltage_at(&self, temperature_c: f64) -> f64 {
        self.pull_in_current() * self.coil.resistance_at(temperature_c)
    }

    /// Steady coil voltage at which it drops out with the coil at a temperature, V.
    pub fn drop_out_voltage_at(&self, temperature_c: f64) -> f64 {
        self.drop_out_current() * self.coil.resistance_at(temperature_c)
    }

    pub(super) fn check_data(&self) -> Result<(), PartError> {
        self.coil.check()?;
        self.contacts.check()?;
        above_zero("pull_in_voltage", self.pull_in_voltage)?;
        let (pull_in, drop_out) = (self.pull_in_voltage.si(), self.drop_out_voltage);
        let between = format!("above 0 V and below the pull-in voltage, {pull_in} V");
        in_range("drop_out_voltage", drop_out, drop_out.si() > 0.0 && drop_out.si() < pull_in, &between)?;
        if let Some(highest) = self.highest_drop_out_voltage {
            let allowed = format!("at least the drop-out voltage, {drop_out}");
            in_range("highest_drop_out_voltage", highest, highest.si() >= drop_out.si(), &allowed)?;
        }
        above_zero("operate_time", self.operate_time)?;
        above_zero("release_time", self.release_time)?;
        let ratings = [
            ("making_current", self.making_current),
            ("carrying_current", self.carrying_current),
            ("breaking_current", self.breaking_current),
        ];
        for (argument, rating) in ratings {
            if let Some(rating) = rating {
                above_zero(argument, rating)?;
            }
        }
        self.duty_rating.check()?;
        self.check_bounce()?;
        self.check_faults()?;
        self.moving().map(|_| ())
    }

    fn check_bounce(&self) -> Result<(), PartError> {
        let times: Vec<f64> = self.bounce.iter().map(|time| time.si()).collect();
        let rising = times.windows(2).all(|pair| pair[0] < pair[1]);
        let positive = times.iter().all(|time| *time > 0.0 && time.is_finite());
        if rising && positive && times.len().is_multiple_of(2) && times.len() <= MOST_BOUNCES {
            return Ok(());
        }
        let allowed =
            format!("rising times above 0 s, an even number of them so that it ends closed, at most {MOST_BOUNCES}");
        Err(PartError::range("bounce", format!("{times:?}"), &allowed))
    }
}
