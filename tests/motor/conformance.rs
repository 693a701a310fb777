//! Every motor, plain and with all that can be switched on, against the contract of a part.

use stallpoint::circuit::{Conformance, ConformanceOptions, Part, check_part};
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::parts::motor::{
    Armature, ArmatureFaults, CompoundMotor, DeadSpot, Field, Magnetisation, MotorCase, ResistanceVariation, Rotor,
    SeriesMotor, SeriesWinding, ShuntMotor,
};
use stallpoint::quantity::{Fraction, Quantity};

fn q<Q: Quantity>(value: f64) -> Q {
    Q::try_from_si(value).unwrap()
}

#[track_caller]
pub fn conforms(part: &dyn Part) -> Conformance {
    let options = ConformanceOptions { samples: 200, ..ConformanceOptions::default() };
    let found = check_part(part, &options).unwrap();
    assert!(!found.is_source, "{found:?}");
    assert!(found.balanced && found.linear_content, "{found:?}");
    found
}

fn everything() -> Armature {
    Armature {
        brush_drop: q(0.8),
        heat_capacity: Some(q(150.0)),
        thermal_resistance: Some(q(0.8)),
        case: Some(MotorCase { heat_capacity: q(900.0), thermal_resistance: q(0.5), temperature_c: q(30.0) }),
        variation: ResistanceVariation {
            by_angle: q(0.1),
            per_turn: 3,
            when_turning: q(0.24),
            ..ResistanceVariation::default()
        },
        start_angle: q(1.0),
        faults: ArmatureFaults {
            brush_resistance: q(0.02),
            brush_drop: q(0.4),
            shorted_turns: q(0.1),
            dead_spot: Some(DeadSpot { angle: q(0.5), width: q(2.0), resistance: q(0.3) }),
            open: false,
        },
        ..Armature::new(0.03, 1e-4).unwrap()
    }
}

fn bent() -> Magnetisation {
    Magnetisation::measured("1000 rpm", [(5.0, 9.0), (10.0, 15.0), (20.0, 19.0), (40.0, 19.0)]).unwrap()
}

fn rotor() -> Rotor {
    Rotor { viscous_friction: q(1e-3), friction: q(0.1), breakaway: q(0.2), ..Rotor::new(0.01).unwrap() }
}

fn permanent_magnet(armature: Armature) -> PermanentMagnetMotor {
    PermanentMagnetMotor {
        back_emf_constant: None,
        brush_drop: armature.brush_drop,
        heat_capacity: armature.heat_capacity,
        thermal_resistance: armature.thermal_resistance,
        case: armature.case,
        variation: armature.variation,
        start_angle: armature.start_angle,
        faults: armature.faults,
        magnet_strength: q(0.9),
        viscous_friction: q(1e-3),
        ..PermanentMagnetMotor::new(0.03, 1e-4, 0.05, 0.004).unwrap()
    }
}

#[test]
fn prop_permanent_magnet_motor_conforms() {
    conforms(&PermanentMagnetMotor::new(0.03, 1e-4, 0.05, 0.004).unwrap());
    conforms(&permanent_magnet(everything()));
    let mut open = everything();
    open.faults.open = true;
    conforms(&permanent_magnet(open));
}

#[test]
fn prop_wound_motors_conform() {
    for armature in [Armature::new(0.03, 1e-4).unwrap(), everything()] {
        for magnetisation in [Magnetisation::linear(0.02).unwrap(), bent()] {
            let mut field = Field::new(0.02, 1e-3, magnetisation).unwrap();
            field.turns = Fraction::from_si(0.8);
            conforms(&SeriesMotor::new(armature, field.clone(), rotor()));
            conforms(&ShuntMotor::new(armature, field.clone(), rotor()));
            for ratio in [0.01, -0.3] {
                let series = SeriesWinding::new(0.01, ratio).unwrap();
                conforms(&CompoundMotor::new(armature, field.clone(), series, rotor()));
            }
        }
    }
}
