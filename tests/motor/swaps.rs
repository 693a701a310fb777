//! Which swaps reverse which motor: what each says of itself against what the circuit does.

use stallpoint::circuit::Circuit;
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::motor::{
    Armature, CompoundMotor, Field, Motor, Rotor, SeriesMotor, SeriesWinding, ShuntMotor, Swap,
};
use stallpoint::parts::{Resistor, RestPosition, Suppression, Switch, VoltageSource};
use stallpoint::{Run, TransientOptions};

use super::build::straight;

fn motors() -> [Motor; 4] {
    let armature = Armature::new(0.03, 1e-4).unwrap();
    let rotor = Rotor::new(0.002).unwrap();
    let thick = Field::new(0.02, 3e-4, straight(5e-4)).unwrap();
    let thin = Field::new(6.0, 0.2, straight(0.02)).unwrap();
    let helping = SeriesWinding::new(0.01, 0.003).unwrap();
    [
        Drive::from_toml_str(BOAT_LIFT).unwrap().motor,
        Motor::Series(SeriesMotor::new(armature, thick, rotor)),
        Motor::Shunt(ShuntMotor::new(armature, thin.clone(), rotor)),
        Motor::Compound(CompoundMotor::new(armature, thin, helping, rotor)),
    ]
}

/// The signal for forward held for half a second, wires swapped as asked; `two_leads` joins a series field and its armature.
fn run(motor: &Motor, swapped: &[Swap], suppression: Suppression, two_leads: bool) -> Run {
    let has = |swap: Swap| {
        swapped.contains(&swap) || swap != Swap::SupplyAndGround && swapped.contains(&Swap::MotorAndSignalWires)
    };
    let order = |swap: bool, pair: (&'static str, &'static str)| if swap { (pair.1, pair.0) } else { pair };
    let mut c = Circuit::with_reference("minus");
    c.add("source", VoltageSource::constant(12.6).unwrap(), [("plus", "plus"), ("minus", "minus")]).unwrap();
    // The battery's two cables, swapped at the battery.
    let (feed, back) = order(has(Swap::SupplyAndGround), ("plus", "minus"));
    c.add("feed", Resistor::new(0.02).unwrap(), [("a", feed), ("b", "fed")]).unwrap();
    c.add("return", Resistor::new(0.02).unwrap(), [("a", back), ("b", "ground_stud")]).unwrap();

    let mut contactor = Drive::from_toml_str(BOAT_LIFT).unwrap().contactor;
    contactor.coil.suppression = suppression;
    contactor.rest = RestPosition::Open;
    let (coil_a, coil_b) = order(has(Swap::SignalWires), ("signal_a", "signal_b"));
    let (plus, minus) = order(has(Swap::MotorWires), ("motor_a", "motor_b"));
    let studs =
        [("motor_a", "motor_a"), ("motor_b", "motor_b"), ("ground", "ground_stud"), ("coil_return", "ground_stud")];
    let field_in_lead = matches!(motor, Motor::Series(_) | Motor::Compound(_)) && !two_leads;
    let supply = if field_in_lead { "supply_stud" } else { "fed" };
    let coils = [("coil_a", coil_a), ("coil_b", coil_b), ("supply", supply)];
    c.add("contactor", contactor, studs.into_iter().chain(coils)).unwrap();
    c.add("forward", Switch::worked([(0.0, 10.0)]), [("a", "fed"), ("b", "out_a")]).unwrap();
    c.add("reverse", Switch::open(), [("a", "fed"), ("b", "out_b")]).unwrap();
    c.add("wire_a", Resistor::new(0.1).unwrap(), [("a", "out_a"), ("b", "signal_a")]).unwrap();
    c.add("wire_b", Resistor::new(0.1).unwrap(), [("a", "out_b"), ("b", "signal_b")]).unwrap();

    let wires: Vec<(&str, &str)> = match motor {
        Motor::PermanentMagnet(_) => vec![("plus", plus), ("minus", minus)],
        Motor::Series(_) if two_leads => {
            let inner = [("field_minus", "between"), ("armature_plus", "between")];
            [("field_plus", plus), ("armature_minus", minus)].into_iter().chain(inner).collect()
        }
        Motor::Series(_) => {
            vec![("armature_plus", plus), ("armature_minus", minus), ("field_plus", "fed"), ("field_minus", supply)]
        }
        Motor::Shunt(_) => {
            vec![
                ("armature_plus", plus),
                ("armature_minus", minus),
                ("field_plus", "fed"),
                ("field_minus", "ground_stud"),
            ]
        }
        Motor::Compound(_) => vec![
            ("armature_plus", plus),
            ("armature_minus", minus),
            ("series_plus", "fed"),
            ("series_minus", supply),
            ("shunt_plus", "fed"),
            ("shunt_minus", "ground_stud"),
        ],
    };
    c.add_boxed("motor", motor.part().boxed(), wires).unwrap();
    c.attach("motor", ResistingTorque::new(0.3, 0.3).unwrap()).unwrap();
    c.transient(0.5, &TransientOptions::default()).unwrap()
}

/// The direction at the end: 1 forward, -1 backward; 0 when it stands.
fn direction(run: &Run) -> f64 {
    let speed = run.state("motor", "speed").unwrap()[run.len() - 1];
    println!("{speed} rad/s");
    assert!(speed == 0.0 || speed.abs() > 20.0, "{speed}");
    if speed == 0.0 { 0.0 } else { speed.signum() }
}

#[test]
fn exact_every_motor_reverses_on_what_it_says() {
    for motor in motors() {
        let kind = motor.part().kind().to_string();
        assert_eq!(direction(&run(&motor, &[], Suppression::None, false)), 1.0, "{kind}");
        for swap in Swap::ALL {
            let expected = if motor.reverses_on(swap) { -1.0 } else { 1.0 };
            let found = direction(&run(&motor, &[swap], Suppression::None, false));
            assert_eq!(found, expected, "{kind} on {swap:?}");
        }
        // Swapped twice: what the two do together.
        let both = [Swap::MotorWires, Swap::SupplyAndGround];
        let signs = both.map(|swap| if motor.reverses_on(swap) { -1.0 } else { 1.0 });
        assert_eq!(direction(&run(&motor, &both, Suppression::None, false)), signs[0] * signs[1], "{kind}");
    }
}

#[test]
fn exact_a_series_motor_with_two_leads_reverses_on_nothing() {
    let [_, series, ..] = motors();
    for swap in Swap::ALL {
        assert_eq!(direction(&run(&series, &[swap], Suppression::None, true)), 1.0, "{swap:?}");
    }
}

#[test]
fn exact_supply_and_ground_swapped_put_the_coil_diode_into_conduction() {
    for motor in motors() {
        let swapped = run(&motor, &[Swap::SupplyAndGround], Suppression::Diode, false);
        assert_eq!(direction(&swapped), 0.0, "the contactor does not pull in");
        let diode = swapped.state("contactor", "coil_a_suppressor_current").unwrap();
        assert!(diode[diode.len() - 1].abs() > 20.0, "{}", diode[diode.len() - 1]);
    }
}
