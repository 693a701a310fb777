//! What warms in a drive, and by which law.

use super::DutyOptions;
use super::flow::{LinearFlow, Pair};
use super::measures::Measures;
use crate::circuit::Signal;
use crate::drive::{Direction, Drive};
use crate::parts::Cable;
use crate::parts::motor::{Armature, COPPER};
use crate::report::quantity;
use crate::tables::{adiabatic, ampacity};

/// Air temperature that an ampacity is taken to be given for, °C (IEC 60364-5-52; from memory).
pub(super) use crate::parts::AMPACITY_AMBIENT_C;

/// A part that warms, or the accumulator of a breaker or fuse.
pub(super) struct Body {
    /// What it is called.
    pub(super) name: String,
    /// "degC" or, for a share of what its limit stands for, "1".
    pub(super) unit: &'static str,
    /// Values after a long rest.
    pub(super) cold: Pair,
    /// Limit; none when a datum is missing or there is none.
    pub(super) limit: Option<f64>,
    /// Where the limit comes from, or the key of the drive's file that is missing.
    pub(super) basis: String,
    /// The mean square of its current.
    pub(super) square: Option<usize>,
    pub(super) law: Law,
}

/// How a body's values change; indices are those of the measures.
pub(super) enum Law {
    /// Winding, with the case as second body where the motor has one.
    Winding { armature: Box<Armature>, capacity: f64, square: usize, brushes: usize, speed: usize, ambient: f64 },
    /// A conductor in air.
    Conductor {
        part: &'static str,
        capacity: f64,
        cold_resistance: f64,
        coefficient: f64,
        conductance: f64,
        square: usize,
        ambient: f64,
    },
    /// A contact's current path, by its share of the rise at the carrying current.
    Path { time_constant: f64, carrying: f64, square: usize },
    /// A coil.
    Coil { direction: Direction, capacity: f64, conductance: f64, heat: usize, less: usize, ambient: f64 },
    /// The accumulator of a breaker or fuse.
    Trip { rate: usize, decay: usize },
}

impl Body {
    /// Its flow under mean loads.
    pub(super) fn flow(&self, means: &[f64]) -> LinearFlow {
        match &self.law {
            Law::Winding { armature, capacity, square, brushes, speed, ambient } => {
                // P (1 + α (T - 20 °C)) in the copper; P is what it would be at 20 °C.
                let p = armature.heat(1.0, means[*speed]).0 * means[*square];
                let (grows, fixed) = (p * COPPER, p * (1.0 - 20.0 * COPPER));
                let g = armature.thermal_resistance.map_or(0.0, |r| 1.0 / r.si());
                let Some(case) = armature.case else {
                    return LinearFlow::one((g - grows) / capacity, (fixed + g * ambient) / capacity);
                };
                let (body, out) = (case.heat_capacity.si(), 1.0 / case.thermal_resistance.si());
                LinearFlow {
                    a: [[(grows - g) / capacity, g / capacity], [g / body, -(g + out) / body]],
                    b: [fixed / capacity, (out * ambient + means[*brushes]) / body],
                }
            }
            Law::Conductor { capacity, cold_resistance, coefficient, conductance, square, ambient, .. } => {
                let p = cold_resistance * means[*square];
                let decay = (conductance - p * coefficient) / capacity;
                LinearFlow::one(decay, (p * (1.0 - 20.0 * coefficient) + conductance * ambient) / capacity)
            }
            Law::Path { time_constant, carrying, square } => {
                LinearFlow::one(1.0 / time_constant, means[*square] / (carrying * carrying) / time_constant)
            }
            Law::Coil { capacity, conductance, heat, less, ambient, .. } => {
                let source = means[*heat] + conductance * ambient;
                LinearFlow::one((conductance + means[*less]) / capacity, source / capacity)
            }
            Law::Trip { rate, decay } => LinearFlow::one(means[*decay], means[*rate]),
        }
    }
}

/// A part of which too little is known.
pub(super) struct Unknown {
    pub(super) name: String,
    pub(super) missing: String,
}

/// Every body of a drive with the measures that they need, and what is not known.
pub(super) fn bodies(drive: &Drive, options: &DutyOptions, measures: &mut Measures) -> (Vec<Body>, Vec<Unknown>) {
    let (mut bodies, mut unknown) = (Vec::new(), Vec::new());
    let mut add = |found: Result<Body, Unknown>| match found {
        Ok(body) => bodies.push(body),
        Err(missing) => unknown.push(missing),
    };
    let motor_ambient = options.ambient_c.map_or(drive.motor.armature().ambient_c.si(), |t| t.si());
    add(winding(drive, motor_ambient, measures));
    let air = options.ambient_c.map_or(AMPACITY_AMBIENT_C, |t| t.si());
    for (name, part, key, cable) in cables(drive) {
        add(conductor(name, part, key, cable, air, measures));
    }
    for (name, state) in CONTACTS {
        add(path(drive, name, state, measures));
    }
    for direction in Direction::BOTH {
        add(coil(drive, direction, motor_ambient, measures));
    }
    for (name, edge) in edge_names(drive).into_iter().zip([0.0, 1.0]) {
        add(Ok(trip(drive, name, edge, measures)));
    }
    (bodies, unknown)
}

pub(super) const WINDING: &str = "motor winding";
/// The fastest and the slowest device of the band among the parts.
pub(super) fn edge_names(drive: &Drive) -> [String; 2] {
    ["fastest", "slowest"].map(|edge| format!("{}, {edge} device", drive.protection().name()))
}

/// Each contact of the contactor with its state.
pub(super) const CONTACTS: [(&str, &str); 4] = [
    ("contact supply to motor A", "supply_a_current"),
    ("contact ground to motor A", "ground_a_current"),
    ("contact supply to motor B", "supply_b_current"),
    ("contact ground to motor B", "ground_b_current"),
];

/// Every cable that is described: what it is called, its part, its key in the drive's file.
pub(super) fn cables(drive: &Drive) -> Vec<(&'static str, &'static str, &'static str, &Cable)> {
    let leads = [
        ("battery lead", "battery_lead", "battery_lead", &drive.battery_lead),
        ("isolator lead", "isolator_lead", "isolator_lead", &drive.isolator_lead),
        // Both motor leads carry the same current.
        ("motor lead", "motor_lead_a", "motor_lead", &drive.motor_lead),
    ];
    let mut all = vec![
        ("supply cable", "supply_cable", "supply_cable", &drive.supply_cable),
        ("ground cable", "ground_cable", "ground_cable", &drive.ground_cable),
    ];
    all.extend(leads.into_iter().filter_map(|(name, part, key, cable)| Some((name, part, key, cable.as_ref()?))));
    all
}

fn winding(drive: &Drive, ambient: f64, measures: &mut Measures) -> Result<Body, Unknown> {
    let armature = drive.motor.armature();
    let name = WINDING.to_string();
    let table = drive.motor.winding_table();
    let (Some(capacity), Some(_)) = (armature.heat_capacity, armature.thermal_resistance) else {
        let missing = match (armature.heat_capacity, armature.thermal_resistance) {
            (None, None) => format!("{table}.heat_capacity and {table}.thermal_resistance are missing"),
            (None, _) => format!("{table}.heat_capacity is missing"),
            _ => format!("{table}.thermal_resistance is missing"),
        };
        return Err(Unknown { name, missing });
    };
    let square = measures.square("motor");
    let brushes = measures.add(Signal::Current("motor".into()), move |i| armature.heat(i, 0.0).1);
    let speed = measures.add(Signal::State("motor".into(), "speed".into()), f64::abs);
    let limit = armature.max_winding_temperature_c.map(|t| t.si());
    let basis = match limit {
        Some(_) => format!("{table}.max_winding_temperature_c, data sheet or insulation class"),
        None => format!("{table}.max_winding_temperature_c is missing"),
    };
    let law = Law::Winding { armature: Box::new(armature), capacity: capacity.si(), square, brushes, speed, ambient };
    Ok(Body { name, unit: "degC", cold: [ambient; 2], limit, basis, square: Some(square), law })
}

fn conductor(
    name: &str,
    part: &'static str,
    key: &str,
    cable: &Cable,
    air: f64,
    measures: &mut Measures,
) -> Result<Body, Unknown> {
    let missing = |missing: String| Unknown { name: name.into(), missing };
    let area_mm2 = cable.area_m2() * 1e6;
    let k = adiabatic::k_value(cable.conductor, cable.insulation, area_mm2);
    if k.is_none() {
        return Err(missing(format!("no k value is known for {key}.insulation")));
    }
    if cable.ampacity.is_none() {
        let trailing = ampacity::trailing_cable(cable.cross_section).and_then(|row| row.single_ampacity_a);
        let hint = trailing.map_or_else(String::new, |rated| {
            let rated = quantity(rated, "A");
            format!(" (a trailing cable of this gauge is rated {rated}, 30 CFR 75.601-3: no rating for this one)")
        });
        return Err(missing(format!("{key}.ampacity is missing{hint}")));
    }
    let Some(heat) = cable.conductor_heat() else {
        return Err(missing(format!("no heat capacity is known for {key}.conductor")));
    };
    let square = measures.square(part);
    let law = Law::Conductor {
        part,
        capacity: heat.capacity,
        cold_resistance: heat.resistance_20c,
        coefficient: heat.coefficient,
        conductance: heat.conductance,
        square,
        ambient: air,
    };
    let limit_from = match cable.limit_c {
        Some(_) => format!("{key}.limit_c"),
        None => format!("{key}.insulation, IEC 60364-5-54"),
    };
    let basis =
        format!("continuous limit of {limit_from}; cooled as {key}.ampacity says in air of {AMPACITY_AMBIENT_C} °C");
    Ok(Body {
        name: name.into(),
        unit: "degC",
        cold: [air, 0.0],
        limit: Some(heat.limit_c),
        basis,
        square: Some(square),
        law,
    })
}

fn path(drive: &Drive, name: &str, state: &str, measures: &mut Measures) -> Result<Body, Unknown> {
    let square = measures.square_of(Signal::State("contactor".into(), state.into()));
    let missing = |key: &str| Unknown { name: name.into(), missing: format!("{key} is missing") };
    let carrying = drive.contactor.carrying_current.ok_or_else(|| missing("contactor.carrying_current"))?.si();
    let time_constant = drive.contactor.duty_rating.contact_time_constant;
    let time_constant = time_constant.ok_or_else(|| missing("contactor.duty_rating.contact_time_constant"))?.si();
    let law = Law::Path { time_constant, carrying, square };
    let basis = "rise at contactor.carrying_current, data sheet, which counts as continuous";
    Ok(Body {
        name: name.into(),
        unit: "1",
        cold: [0.0; 2],
        limit: Some(1.0),
        basis: basis.into(),
        square: Some(square),
        law,
    })
}

fn coil(drive: &Drive, direction: Direction, ambient: f64, measures: &mut Measures) -> Result<Body, Unknown> {
    let letter = direction.letter();
    let name = format!("coil {}", letter.to_uppercase());
    let rating = &drive.contactor.duty_rating;
    let (capacity, cooling) = (rating.coil_heat_capacity, rating.coil_thermal_resistance);
    let (Some(capacity), Some(cooling)) = (capacity, cooling) else {
        let keys = [(capacity.is_none(), "coil_heat_capacity"), (cooling.is_none(), "coil_thermal_resistance")];
        let keys: Vec<String> =
            keys.iter().filter(|key| key.0).map(|key| format!("contactor.duty_rating.{}", key.1)).collect();
        let verb = if keys.len() == 1 { "is" } else { "are" };
        return Err(Unknown { name, missing: format!("{} {verb} missing", keys.join(" and ")) });
    };
    let (limit, basis) = match rating.max_coil_temperature_c {
        Some(limit) => (Some(limit.si()), "contactor.duty_rating.max_coil_temperature_c, data sheet"),
        None => (None, "contactor.duty_rating.max_coil_temperature_c is missing"),
    };
    let [heat, less] = measures.coil(direction);
    let conductance = 1.0 / cooling.si();
    let law = Law::Coil { direction, capacity: capacity.si(), conductance, heat, less, ambient };
    Ok(Body { name, unit: "degC", cold: [ambient, 0.0], limit, basis: basis.into(), square: None, law })
}

fn trip(drive: &Drive, name: String, edge: f64, measures: &mut Measures) -> Body {
    let device = drive.protection();
    let breaker = Signal::Current(device.name().into());
    let [own, other] = [device.counts_as().clone(), device.counts_as().clone()];
    let rate = measures.add(breaker.clone(), move |i| own.accumulating(edge, i).0);
    let decay = measures.add(breaker, move |i| other.accumulating(edge, i).1);
    let square = measures.square(device.name());
    let basis = "trip band: a device opens when its accumulated trip fraction reaches 1";
    let law = Law::Trip { rate, decay };
    Body { name, unit: "1", cold: [0.0; 2], limit: Some(1.0), basis: basis.into(), square: Some(square), law }
}
