//! From a data sheet's points to a motor's parameters.

use super::PermanentMagnetMotor;
use super::least_squares::least_squares;
use crate::error::{Error, PartError};
use crate::quantity::{AngularSpeed, Current, Inductance, Inertia, IntoQuantity, Torque, TorqueConstant, Voltage};

/// What a permanent-magnet motor's data sheet says of it at one voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DataSheet {
    /// Voltage of all points, V.
    pub voltage: Voltage,
    /// Speed without load, rad/s.
    pub no_load_speed: AngularSpeed,
    /// Current without load, A.
    pub no_load_current: Current,
    /// Torque at stall, N·m.
    pub stall_torque: Torque,
    /// Current at stall, A.
    pub stall_current: Current,
    /// One point between, if the sheet has it.
    pub rated: Option<RatedPoint>,
    /// Brush drop, V, taken as known; zero puts it into the resistance.
    pub brush_drop: Voltage,
}

/// A motor's rated point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedPoint {
    /// Torque, N·m.
    pub torque: Torque,
    /// Speed, rad/s.
    pub speed: AngularSpeed,
    /// Current, A.
    pub current: Current,
}

/// Whether torque and back-EMF constants may differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MotorConstants {
    /// Each is fitted. Measured motors have `K_t / K_e` from 0.86 to 1.01.
    Separate,
    /// One constant for both, as physics has it for an ideal motor.
    Equal,
}

/// A motor fitted to a data sheet, and how well.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedMotor {
    /// The motor.
    pub motor: PermanentMagnetMotor,
    /// Every number of the sheet beside the motor's own.
    pub misfits: Vec<Misfit>,
}

/// One number of a data sheet beside that of the fitted motor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misfit {
    /// Which: "stall torque".
    pub quantity: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// As the sheet says.
    pub given: f64,
    /// As the motor has it.
    pub fitted: f64,
}

impl Misfit {
    /// The difference as a share of what the sheet says.
    pub fn relative(&self) -> f64 {
        self.fitted / self.given - 1.0
    }
}

impl FittedMotor {
    /// The misfit that is largest as a share.
    pub fn worst(&self) -> Option<&Misfit> {
        self.misfits.iter().max_by(|a, b| a.relative().abs().total_cmp(&b.relative().abs()))
    }

    /// `K_t / K_e`.
    pub fn ratio_of_constants(&self) -> f64 {
        self.motor.torque_constant.si() / self.motor.back_emf()
    }
}

impl DataSheet {
    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("voltage", self.voltage)?;
        above_zero("no_load_speed", self.no_load_speed)?;
        above_zero("no_load_current", self.no_load_current)?;
        above_zero("stall_torque", self.stall_torque)?;
        let (idle, stall) = (self.no_load_current, self.stall_current);
        in_range("stall_current", stall, stall.si() > idle.si(), &format!("above the no-load current, {idle}"))?;
        not_negative("brush_drop", self.brush_drop)?;
        let (drop, volts) = (self.brush_drop, self.voltage);
        in_range("brush_drop", drop, drop.si() < volts.si(), &format!("below the voltage, {volts}"))?;
        if let Some(rated) = self.rated {
            above_zero("rated.torque", rated.torque)?;
            let most = self.stall_torque;
            let below = rated.torque.si() < most.si();
            in_range("rated.torque", rated.torque, below, &format!("below the stall torque, {most}"))?;
            above_zero("rated.speed", rated.speed)?;
            above_zero("rated.current", rated.current)?;
        }
        Ok(())
    }

    /// Every number of the sheet beside that of a motor with resistance, back-EMF constant, torque constant, friction.
    fn misfits(&self, [r, ke, kt, friction]: [f64; 4]) -> Vec<Misfit> {
        let volts = self.voltage.si() - self.brush_drop.si();
        let current = |torque: f64| (torque + friction) / kt;
        let speed = |torque: f64| (volts - r * current(torque)) / ke;
        let misfit = |quantity, unit, given, fitted| Misfit { quantity, unit, given, fitted };
        let mut all = vec![
            misfit("no-load speed", "rad/s", self.no_load_speed.si(), speed(0.0)),
            misfit("no-load current", "A", self.no_load_current.si(), current(0.0)),
            misfit("stall torque", "N m", self.stall_torque.si(), kt * volts / r - friction),
            misfit("stall current", "A", self.stall_current.si(), volts / r),
        ];
        if let Some(rated) = self.rated {
            let torque = rated.torque.si();
            all.push(misfit("rated speed", "rad/s", rated.speed.si(), speed(torque)));
            all.push(misfit("rated current", "A", rated.current.si(), current(torque)));
        }
        all
    }

    /// Resistance, back-EMF constant, torque constant, friction from no-load and stall alone.
    fn exact(&self) -> [f64; 4] {
        let volts = self.voltage.si() - self.brush_drop.si();
        let (idle, stall) = (self.no_load_current.si(), self.stall_current.si());
        let r = volts / stall;
        let ke = (volts - r * idle) / self.no_load_speed.si();
        let kt = self.stall_torque.si() / (stall - idle);
        [r, ke, kt, kt * idle]
    }
}

impl PermanentMagnetMotor {
    /// A motor from a data sheet's no-load and stall points, and one rated point if there is one; `inductance` and `inertia`
    /// do not follow from these.
    ///
    /// ```text
    /// V - V_b = R I_stall,   V - V_b - R I = K_e ω,   T = K_t I - T_friction
    /// ```
    ///
    /// With separate constants and no rated point the four parameters meet all four numbers. Otherwise they are fitted: the
    /// sum of the squared relative misfits is least. The misfits say what the sheet and the model do not agree about.
    ///
    /// # Errors
    /// A number that is not above zero, a stall current below the no-load current, a brush drop above the voltage.
    ///
    /// Limits: the loss without load is taken as dry friction; the brush drop as constant.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::PermanentMagnetMotor;
    /// use stallpoint::parts::motor::{DataSheet, MotorConstants};
    ///
    /// let sheet = DataSheet {
    ///     voltage: "12 V".parse()?,
    ///     no_load_speed: "5330 rpm".parse()?,
    ///     no_load_current: "2.7 A".parse()?,
    ///     stall_torque: "2.413 N m".parse()?,
    ///     stall_current: "131.055 A".parse()?,
    ///     rated: None,
    ///     brush_drop: "0 V".parse()?,
    /// };
    /// let fitted = PermanentMagnetMotor::from_data_sheet(&sheet, "50 uH", "1e-4 kg m2", MotorConstants::Separate)?;
    /// assert!(fitted.worst().unwrap().relative().abs() < 1e-9);
    /// assert!((fitted.ratio_of_constants() - 0.893).abs() < 1e-3);
    /// let forced = PermanentMagnetMotor::from_data_sheet(&sheet, "50 uH", "1e-4 kg m2", MotorConstants::Equal)?;
    /// assert!(forced.worst().unwrap().relative().abs() > 0.03);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_data_sheet(
        sheet: &DataSheet,
        inductance: impl IntoQuantity<Inductance>,
        inertia: impl IntoQuantity<Inertia>,
        constants: MotorConstants,
    ) -> Result<FittedMotor, Error> {
        sheet.check()?;
        let separate = constants == MotorConstants::Separate;
        let start = sheet.exact();
        let found = if separate && sheet.rated.is_none() {
            start
        } else {
            // Logarithms keep every parameter above zero.
            let full = |p: &[f64]| {
                if separate {
                    [p[0].exp(), p[1].exp(), p[2].exp(), p[3].exp()]
                } else {
                    [p[0].exp(), p[1].exp(), p[1].exp(), p[2].exp()]
                }
            };
            let [r, ke, kt, friction] = start.map(f64::ln);
            let first = if separate { vec![r, ke, kt, friction] } else { vec![r, 0.5 * (ke + kt), friction] };
            full(&least_squares(first, |p| sheet.misfits(full(p)).iter().map(Misfit::relative).collect()))
        };
        let [r, ke, kt, friction] = found;
        let motor = Self {
            back_emf_constant: separate.then_some(TorqueConstant::from_si(ke)),
            friction: Torque::from_si(friction),
            brush_drop: sheet.brush_drop,
            ..Self::new(r, inductance, kt, inertia)?
        };
        Ok(FittedMotor { motor, misfits: sheet.misfits(found) })
    }
}
