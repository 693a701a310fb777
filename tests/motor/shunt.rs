//! Shunt motors of textbooks.

use super::build::{RPM, close, loaded, number, reference, running, shunt, shunt_on_source, straight, with_source};
use stallpoint::parts::motor::Field;

#[test]
fn val_speed_at_less_voltage() {
    // The field weakens with the voltage, the load torque stays: the field's resistance does not enter, 100 ohm is ours.
    let data = reference("dc_motor_examples.toml", "dubey_5_1_shunt_undervoltage");
    let (v, i, ra) = (number(&data, "V1"), number(&data, "Ia1_A"), number(&data, "Ra_ohm"));
    let k = (v - i * ra) / (number(&data, "N1_rpm") * RPM);
    let motor = shunt(ra, Field::new(100.0, 20.0, straight(k / (v / 100.0))).unwrap(), 1.0);
    let at = |v: f64| running(&loaded(shunt_on_source(v, motor.clone()), k * i - 1e-6));
    close(at(v).state("motor", "speed").unwrap() / RPM, number(&data, "N1_rpm"), 1e-6, "speed at full voltage");
    let speed = at(number(&data, "V2")).state("motor", "speed").unwrap() / RPM;
    close(speed, number(&data, "N2_rpm"), 1e-6, "speed at less voltage");
}

#[test]
fn val_speed_under_load_and_with_a_weak_field() {
    // 230 V, armature 0.05 ohm, field 75 ohm, 7 A and 1120 rpm without load; then 46 A of line current, with the field at
    // 75 ohm and at 100 ohm. Open textbook companion, book 3890, example 6.7.
    let data = reference("dc_motor_examples.toml", "tbc3890_6_7_shunt_speed");
    let field = 230.0 / 75.0;
    let k = (230.0 - (7.0 - field) * 0.05) / (1120.0 * RPM);
    for (ohms, key) in [(75.0, "N_46A_rpm"), (100.0, "N_46A_weak_field_rpm")] {
        let motor = shunt(0.05, Field::new(ohms, 20.0, straight(k / field)).unwrap(), 1.0);
        let weakened = k / field * (230.0 / ohms);
        let op = running(&loaded(shunt_on_source(230.0, motor), weakened * (46.0 - 230.0 / ohms) - 1e-6));
        close(op.current("source").unwrap(), -46.0, 1e-6, "line current");
        close(op.state("motor", "speed").unwrap() / RPM, number(&data, key), 1e-6, key);
    }
}

#[test]
fn val_starting_current_of_a_220_v_motor() {
    let data = reference("dc_motor_examples.toml", "shunt_220V");
    let motor = shunt(number(&data, "Ra_ohm"), Field::new(100.0, 20.0, straight(0.5)).unwrap(), 1.0);
    let op = loaded(shunt_on_source(number(&data, "V"), motor), 1e6).operating_point().unwrap();
    assert!(op.stuck);
    close(op.current("motor").unwrap(), number(&data, "I_start_A"), 1e-9, "starting current");
}

#[test]
fn val_regenerative_braking_into_a_source() {
    // A field fed on its own; the machine turned at 600 rpm gives 80 % of its rated current back through its own and the
    // source's resistance.
    let data = reference("dc_motor_examples.toml", "dubey_5_3_regenerative");
    let (v, i, ra) = (number(&data, "V_rated"), number(&data, "Ia_A"), number(&data, "Ra_ohm"));
    let k = (v - i * ra) / (number(&data, "N1_rpm") * RPM);
    let motor = shunt(ra, Field::new(100.0, 20.0, straight(k / 2.2)).unwrap(), 1.0);
    let mut circuit = with_source(number(&data, "V_internal"));
    super::build::resistor(&mut circuit, "inside", number(&data, "R_source_ohm"), "p", "bus");
    let excitation = stallpoint::parts::VoltageSource::constant(220.0).unwrap();
    circuit.add("excitation", excitation, [("plus", "field"), ("minus", "ground")]).unwrap();
    let wires =
        [("field_plus", "field"), ("field_minus", "ground"), ("armature_plus", "bus"), ("armature_minus", "ground")];
    circuit.add("motor", motor, wires).unwrap();
    // The torque that the current asks for drives the shaft forward.
    let torque = k * number(&data, "I_fraction") * i;
    circuit.attach("motor", stallpoint::parts::load::GravityTorque::new(-torque).unwrap()).unwrap();
    let op = running(&circuit);
    close(op.state("motor", "speed").unwrap() / RPM, number(&data, "N2_rpm"), 1e-6, "speed");
    close(op.current("motor").unwrap(), -number(&data, "I_fraction") * i, 1e-6, "current");
    assert!(op.current("source").unwrap() > 0.0, "the source takes current in");
}
