//! From data-sheet points to parameters.

use super::build::{RPM, close, loaded, number, on_source, reference, running};
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::parts::motor::{DataSheet, FittedMotor, MotorConstants, RatedPoint};
use stallpoint::quantity::{AngularSpeed, Current, Quantity, Torque, Voltage};

fn q<Q: Quantity>(value: f64) -> Q {
    Q::try_from_si(value).unwrap()
}

fn sheet(name: &str) -> DataSheet {
    let data = reference("motor_12V_curves.toml", name);
    DataSheet {
        voltage: q(12.0),
        no_load_speed: q(number(&data, "free_rpm") * RPM),
        no_load_current: q(number(&data, "free_A")),
        stall_torque: q(number(&data, "stall_Nm")),
        stall_current: q(number(&data, "stall_A")),
        rated: None,
        brush_drop: Voltage::default(),
    }
}

fn fit(sheet: &DataSheet, constants: MotorConstants) -> FittedMotor {
    PermanentMagnetMotor::from_data_sheet(sheet, 1e-4, 1e-4, constants).unwrap()
}

#[test]
fn val_four_measured_motors_with_separate_and_with_equal_constants() {
    for name in ["A", "B", "C", "D"] {
        let data = reference("motor_12V_curves.toml", name);
        let separate = fit(&sheet(name), MotorConstants::Separate);
        // Printed with four or five digits.
        close(separate.motor.resistance.si(), number(&data, "R"), 1e-3, "R");
        close(separate.motor.back_emf(), number(&data, "Ke"), 1e-3, "Ke");
        close(separate.motor.torque_constant.si(), number(&data, "Kt"), 1e-3, "Kt");
        assert!(separate.worst().unwrap().relative().abs() < 1e-12);
        // Equal constants cannot meet torque and speed both: the misfits share what Kt/Ke is off from 1.
        let equal = fit(&sheet(name), MotorConstants::Equal);
        let worst = equal.worst().unwrap();
        let off = (number(&data, "Kt") / number(&data, "Ke")).ln();
        println!("{name}: worst {} {:+.1} %, Kt/Ke {:+.1} %", worst.quantity, 100.0 * worst.relative(), 100.0 * off);
        assert_eq!(equal.ratio_of_constants(), 1.0);
        assert!(worst.relative().abs() > 0.2 * off.abs() && worst.relative().abs() < off.abs(), "{name}: {worst:?}");
        let torque = equal.misfits.iter().find(|misfit| misfit.quantity == "stall torque").unwrap();
        assert_eq!(torque.relative() > 0.0, off < 0.0, "{name}: {torque:?}");
        // The constant that the speed asks for would miss the stall torque by 10 to 14 % of itself but for C (the file's words).
        let by_speed = 1.0 - number(&data, "Kt") / number(&data, "Ke");
        assert_eq!((0.1..0.145).contains(&by_speed), name != "C", "{name}: {by_speed}");
        // What the report says is what a circuit with the motor does.
        let op = running(&on_source(12.0, equal.motor.clone()));
        let of = |quantity: &str| equal.misfits.iter().find(|misfit| misfit.quantity == quantity).unwrap().fitted;
        close(op.state("motor", "speed").unwrap(), of("no-load speed"), 1e-8, "no-load speed");
        close(op.current("motor").unwrap(), of("no-load current"), 1e-8, "no-load current");
        let op = loaded(on_source(12.0, equal.motor.clone()), 1e3).operating_point().unwrap();
        close(op.current("motor").unwrap(), of("stall current"), 1e-8, "stall current");
    }
}

#[test]
fn exact_points_of_a_known_motor_give_it_back() {
    let (v, drop, r, k, friction) = (12.0, 0.8, 0.05, 0.045, 0.2);
    let current = |torque: f64| (torque + friction) / k;
    let speed = |torque: f64| (v - drop - r * current(torque)) / k;
    let stall = (v - drop) / r;
    let sheet = DataSheet {
        voltage: q(v),
        no_load_speed: q(speed(0.0)),
        no_load_current: q(current(0.0)),
        stall_torque: q(k * stall - friction),
        stall_current: q(stall),
        rated: Some(RatedPoint { torque: q(2.0), speed: q(speed(2.0)), current: q(current(2.0)) }),
        brush_drop: q(drop),
    };
    for constants in [MotorConstants::Separate, MotorConstants::Equal] {
        let fitted = fit(&sheet, constants);
        close(fitted.motor.resistance.si(), r, 1e-9, "R");
        close(fitted.motor.torque_constant.si(), k, 1e-9, "K");
        close(fitted.motor.friction.si(), friction, 1e-9, "friction");
        assert_eq!(fitted.misfits.len(), 6);
        assert!(fitted.worst().unwrap().relative().abs() < 1e-9);
    }
    // A rated speed 5 % off cannot be met; it is named.
    let rated = RatedPoint { speed: q(1.05 * speed(2.0)), ..sheet.rated.unwrap() };
    let fitted = fit(&DataSheet { rated: Some(rated), ..sheet }, MotorConstants::Separate);
    let worst = fitted.worst().unwrap();
    println!("{:?}", fitted.misfits);
    assert!(worst.quantity == "rated speed" && worst.relative() < -0.01, "{worst:?}");
}

#[test]
fn exact_impossible_sheets_are_refused_by_name() {
    let good = sheet("A");
    let refused = |sheet: DataSheet| {
        PermanentMagnetMotor::from_data_sheet(&sheet, 1e-4, 1e-4, MotorConstants::Equal).unwrap_err().to_string()
    };
    for (sheet, word) in [
        (DataSheet { no_load_current: Current::default(), ..good }, "`no_load_current`"),
        (DataSheet { stall_current: q(2.0), ..good }, "`stall_current`"),
        (DataSheet { brush_drop: q(13.0), ..good }, "`brush_drop`"),
        (DataSheet { no_load_speed: AngularSpeed::default(), ..good }, "`no_load_speed`"),
        (DataSheet { stall_torque: Torque::default(), ..good }, "`stall_torque`"),
    ] {
        let text = refused(sheet);
        assert!(text.contains(word), "{text}");
    }
}
