//! The duty study: how warm each part gets in a cycle that repeats, how long each may be on, and how long it must rest.

mod answers;
mod bodies;
mod checks;
mod contactor;
mod cycle;
mod flow;
mod follow;
mod measures;
mod periodic;
mod picture;
mod profile;
mod report;
mod rms;
mod study;

pub use contactor::ContactorAnswer;
pub use cycle::{Cycle, CycleKind, Span};
pub use flow::{LinearFlow, Pair};
pub use periodic::{Round, periodic};
pub use rms::rms;
pub use study::{BatteryDuty, DutyStudy, NotKnown, PartDuty, SpanDuty};

use crate::circuit::{Flow, Watcher};
use crate::drive::Drive;
use crate::error::Error;
use crate::quantity::Temperature;

/// Settings of a duty study.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyOptions {
    /// How long each span is followed in the fast run, s; what it has settled to by then goes on for the rest of the span.
    /// Make it longer where a load changes late, as at an end stop.
    pub follow: f64,
    /// Air around everything, °C. Left out: `motor.ambient_c` for motor and coils, and for cables the 30 °C that an ampacity
    /// counts as given for.
    pub ambient_c: Option<Temperature>,
    /// Relative tolerance of the fast runs.
    pub rtol: f64,
}

impl Default for DutyOptions {
    fn default() -> Self {
        Self { follow: 20.0, ambient_c: None, rtol: 1e-4 }
    }
}

impl DutyOptions {
    fn check(&self) -> Result<(), Error> {
        if !(self.follow > 0.0 && self.follow.is_finite()) {
            return Err(Error::option("follow", &format!("{} s", self.follow), "above 0 s"));
        }
        if let Some(air) = self.ambient_c {
            let holds = air.si() > -100.0 && air.si() < 200.0;
            crate::parts::in_range("ambient_c", air, holds, "between -100 degC and 200 degC")?;
        }
        if self.rtol > 0.0 && self.rtol < 1.0 {
            return Ok(());
        }
        Err(Error::option("rtol", &self.rtol.to_string(), "above 0 and below 1"))
    }
}

/// Studies a drive in a duty cycle with the default settings.
///
/// Two time scales: the cycle is run once at frozen temperatures, each span until it has settled, which gives the heat in
/// every part. Each part's own heat balance is linear,
/// ```text
/// winding   C dT/dt = R(T) i² - (T - T_case) / R_th,   case  C dT/dt = … (where the motor has one)
/// cable     Q_c S l dT/dt = R(T) i² - R(θ_i) i_z² (T - T_a) / (θ_i - 30 °C)      i_z ampacity, θ_i insulation's limit
/// contact   τ dh/dt = (i / i_c)² - h          h = 1: the rise at the carrying current
/// coil      C dT/dt = V² / R(T) - (T - T_a) / R_th
/// breaker   dA/dt = 1 / t(i) above pick-up, -A / τ below
/// ```
/// so that the cycle into which it settles is had in closed form ([`periodic`]). The temperatures go back into the drive, and
/// that is repeated until they stay, some three to five times; no hours are simulated.
///
/// # Errors
/// A description that cannot be a drive; a cycle that never calls for a direction; a run whose equations cannot be solved on.
///
/// Limits: the current in a span is that of its mean temperature (right for a load of constant torque; for a stalled drive see
/// the surge study); a wound field stays as warm as described; the charge stays as described; the breaker counts but does not
/// open; insulation holds no heat (so short loads warm a cable faster here than they do).
///
/// Source: duty types from IEC 60034-1; heat capacity and limits of conductors from IEC 60364-5-54 and IEC 60949; accumulated
/// trip from IEEE C37.112, its decay below pick-up our own.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::duty::{Cycle, duty_study};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let study = duty_study(&drive, &Cycle::new().forward("40 s")?.rest("6 min")?)?;
/// let winding = study.part("motor winding").unwrap();
/// assert!(winding.highest > winding.lowest && winding.lowest > winding.cold);
/// println!("{}", study.contactor.words());
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn duty_study(drive: &Drive, cycle: &Cycle) -> Result<DutyStudy, Error> {
    duty_study_with(drive, cycle, &DutyOptions::default(), &mut |_| Flow::Continue)
}

/// As [`duty_study`], with settings and a watcher.
///
/// # Errors
/// As for [`duty_study`]; [`Error::Cancelled`] when the watcher stops it.
pub fn duty_study_with(
    drive: &Drive,
    cycle: &Cycle,
    options: &DutyOptions,
    watcher: Watcher,
) -> Result<DutyStudy, Error> {
    study::study(drive, cycle, options, watcher)
}
