//! Parts, one file each. To add one: its file, its three lines here (declared, exported, listed), its class in Python and its
//! tests.

mod arguments;
mod battery;
mod brightness;
mod cable;
mod cable_heat;
mod capacitor;
mod clamp_ammeter;
mod coil;
pub(crate) mod contact;
mod current_source;
mod diode;
mod inductor;
mod joint;
mod lamp;
mod list;
pub mod load;
pub mod motor;
mod protection;
mod resistor;
mod reversing_contactor;
mod shaft;
mod suppression;
mod switch;
mod voltage_source;
mod voltmeter;
mod waveform;

pub(crate) use arguments::{above_zero, branch_current, in_range, not_negative, per_cent, quantity, share};
pub use battery::{BadString, Battery, BatteryFaults, CutOff, DischargeMisfit, DischargePoint, FittedBattery, Peukert};
pub use brightness::Brightness;
pub use cable::Cable;
pub(crate) use cable_heat::AMPACITY_AMBIENT_C;
pub use cable_heat::ConductorHeat;
pub use capacitor::Capacitor;
pub use clamp_ammeter::ClampAmmeter;
pub use coil::{Coil, CoilFaults, SuppressorFault};
pub use contact::Contact;
pub use current_source::CurrentSource;
pub use diode::Diode;
pub use inductor::Inductor;
pub use joint::{Constriction, Film, Joint, JointHeat, LORENZ, Loose, hottest_spot_c, spot_voltage};
pub use lamp::TestLamp;
pub use list::{part_example, part_from, part_kinds};
pub use motor::{CompoundMotor, PermanentMagnetMotor, SeriesMotor, ShuntMotor};
pub use protection::{
    Accumulated, Breaker, Derating, Edge, Fuse, GateCheck, HoldingHeater, InverseTimeBand, LinearDerating,
    MagneticTrip, Reset, ThermalBand, TripBand, TripPoints,
};
pub use resistor::Resistor;
pub use reversing_contactor::{
    ArmatureFault, ContactFault, ContactorDuty, ContactorFaults, DutyRating, MovingArmature, RestPosition,
    ReversingContactor,
};
pub use shaft::Shaft;
pub use suppression::Suppression;
pub use switch::Switch;
pub use voltage_source::VoltageSource;
pub use voltmeter::Voltmeter;
pub use waveform::Waveform;

/// Parts that a description can name: how each is made, and an example of the least that it needs. Those of `load` and
/// `motor` are listed there.
const PARTS: &[list::Listed] = &[
    (
        "Battery",
        list::read::<Battery>,
        r#"{ "chemistry": "agm_lead_acid", "capacity": "100 Ah", "series_resistance": "6 mohm" }"#,
    ),
    (
        "Breaker",
        list::read::<Breaker>,
        r#"{ "rated_current": "80 A", "trip_band": { "points": { "fastest": [[1.1, 900.0], [6.0, 1.0]], "slowest": [[1.4, 3600.0], [6.0, 4.0]] } } }"#,
    ),
    ("Cable", list::read::<Cable>, r#"{ "cross_section": "16 mm2", "length": "7 m" }"#),
    ("Capacitor", list::read::<Capacitor>, r#"{ "capacitance": "1 mF" }"#),
    ("ClampAmmeter", list::read::<ClampAmmeter>, r#"{ "bandwidth": "1 kHz", "peak_window": "1 ms" }"#),
    ("Coil", list::read::<Coil>, r#"{ "rated_voltage": "12 V", "resistance": "8 ohm" }"#),
    ("CurrentSource", list::current_source, r#"{ "current": "5 A" }"#),
    ("Diode", list::read::<Diode>, r#"{}"#),
    ("Fuse", list::read::<Fuse>, r#"{ "rated_current": "20 A", "class": "blade_ato" }"#),
    ("Inductor", list::read::<Inductor>, r#"{ "inductance": "1 mH" }"#),
    ("Joint", list::read::<Joint>, r#"{}"#),
    ("Resistor", list::read::<Resistor>, r#"{ "resistance": "2 ohm" }"#),
    (
        "ReversingContactor",
        list::read::<ReversingContactor>,
        r#"{ "coil": { "rated_voltage": "12 V", "resistance": "8 ohm" }, "pull_in_voltage": "7.8 V", "drop_out_voltage": "4.5 V" }"#,
    ),
    ("Switch", list::read::<Switch>, r#"{}"#),
    ("TestLamp", list::read::<TestLamp>, r#"{ "rated_voltage": "12 V", "rated_power": "21 W" }"#),
    ("VoltageSource", list::voltage_source, r#"{ "voltage": "12 V" }"#),
    ("Voltmeter", list::read::<Voltmeter>, r#"{}"#),
];
