//! From a drive's description to its circuit.

use super::control::{Control, Direction};
use super::description::{CoilReturn, ControlSupply, Drive};
use crate::circuit::Circuit;
use crate::error::{Error, TopologyError};
use crate::parts::load::ResistingTorque;
use crate::parts::motor::FieldPlace;
use crate::parts::{Cable, Resistor, Switch};
use crate::quantity::Resistance;

/// A bus bar where the description gives no cable, ohm (typical, no source).
const BUS_BAR: f64 = 0.02e-3;
/// What leaks from a floating case to battery negative, ohm (typical, no source).
const FLOATING: f64 = 1e9;

impl Drive {
    /// The drive's circuit with the control switch worked as `control` says. Its reference is `battery_negative`.
    ///
    /// # Errors
    /// A description that cannot be a drive.
    pub fn circuit(&self, control: &Control) -> Result<Circuit, Error> {
        self.check()?;
        let mut c = Circuit::with_reference("battery_negative");
        let posts = if self.faults.battery_reversed { ["minus", "plus"] } else { ["plus", "minus"] };
        c.add("battery", self.battery.clone(), [(posts[0], "battery_positive"), (posts[1], "battery_negative")])?;
        self.add_joint(&mut c, "battery_positive")?;
        self.add_cable(&mut c, "battery_lead", self.battery_lead.as_ref(), "battery_positive_lug", "isolator_in_lug")?;
        self.add_joint(&mut c, "isolator_in")?;
        let end = self.far_end(&mut c, "isolator", "isolator_out")?;
        c.add("isolator", self.isolator.clone(), [("a", "isolator_in"), ("b", &end)])?;
        self.add_joint(&mut c, "isolator_out")?;
        self.add_cable(
            &mut c,
            "isolator_lead",
            self.isolator_lead.as_ref(),
            "isolator_out_lug",
            &self.own_name("breaker_in_lug"),
        )?;
        let device = self.protection();
        let [line, load] = ["breaker_in", "breaker_out"].map(|point| self.own_name(point));
        self.add_joint(&mut c, &line)?;
        let end = self.far_end(&mut c, device.name(), &load)?;
        c.add_boxed(device.name(), device.part(), vec![("line", line.as_str()), ("load", &end)])?;
        self.add_joint(&mut c, &load)?;
        let series = self.motor.fields().iter().any(|place| matches!(place, FieldPlace::SupplyLead { .. }));
        let supplied = if series { "field_in_lug" } else { "supply_stud_lug" };
        self.add_cable(&mut c, "supply_cable", Some(&self.supply_cable), &format!("{load}_lug"), supplied)?;
        self.add_joint(&mut c, "supply_stud")?;

        let contactor = [
            ("supply", "supply_stud"),
            ("ground", "ground_stud"),
            ("motor_a", "motor_a_stud"),
            ("motor_b", "motor_b_stud"),
            ("coil_a", "coil_a"),
            ("coil_b", "coil_b"),
            ("coil_return", "coil_return"),
        ];
        c.add("contactor", self.contactor.clone(), contactor)?;
        for side in ["a", "b"] {
            let (stud, motor) = (format!("motor_{side}_stud"), format!("motor_{side}"));
            self.add_joint(&mut c, &stud)?;
            let lead = format!("motor_lead_{side}");
            self.add_cable(&mut c, &lead, self.motor_lead.as_ref(), &format!("{stud}_lug"), &format!("{motor}_lug"))?;
            self.add_joint(&mut c, &motor)?;
        }
        self.add_motor(&mut c)?;
        for load in &self.load {
            c.attach_boxed("motor", load.part().boxed())?;
        }
        if self.faults.binding.si() > 0.0 {
            c.attach("motor", ResistingTorque::new(self.faults.binding, self.faults.binding)?)?;
        }

        self.add_joint(&mut c, "ground_stud")?;
        self.add_cable(&mut c, "ground_cable", Some(&self.ground_cable), "ground_stud_lug", "battery_negative_lug")?;
        self.add_joint(&mut c, "battery_negative")?;
        if self.case.bonded {
            c.add("case_joint", self.joint("case_joint")?, [("a", "case"), ("b", "ground_stud")])?;
        } else {
            let leak = Resistor { resistance: Resistance::from_si(FLOATING) };
            c.add("case_leak", leak, [("a", "case"), ("b", "battery_negative")])?;
        }
        self.add_control(&mut c, control)?;
        self.add_bridges(&mut c)?;
        Ok(c)
    }

    /// The motor: its armature between the motor leads, its fields outside the contactor's motor studs.
    fn add_motor(&self, c: &mut Circuit) -> Result<(), Error> {
        let [plus, minus] = self.motor.armature_terminals();
        let mut wires = vec![(plus, "motor_a"), (minus, "motor_b")];
        for place in self.motor.fields() {
            match *place {
                FieldPlace::SupplyLead { plus, minus } => {
                    self.add_joint(c, "field_in")?;
                    wires.extend([(plus, "field_in"), (minus, "field_out")]);
                    self.add_joint(c, "field_out")?;
                    self.add_cable(c, "field_lead", None, "field_out_lug", "supply_stud_lug")?;
                }
                FieldPlace::AcrossSupply { plus, minus } => {
                    self.add_cable(c, "shunt_supply_lead", None, "supply_stud", "shunt_in_lug")?;
                    self.add_joint(c, "shunt_in")?;
                    wires.extend([(plus, "shunt_in"), (minus, "shunt_out")]);
                    self.add_joint(c, "shunt_out")?;
                    self.add_cable(c, "shunt_ground_lead", None, "shunt_out_lug", "ground_stud")?;
                }
            }
        }
        c.add_boxed("motor", self.motor.part().boxed(), wires)
    }

    /// The joint between a point and its lug, first terminal on the point.
    fn add_joint(&self, c: &mut Circuit, point: &str) -> Result<(), Error> {
        let name = format!("{point}_joint");
        let lug = format!("{}_lug", self.faults.lug_on(point));
        c.add(&name, self.joint(&name)?, [("a", point), ("b", &lug)])
    }

    fn add_cable(&self, c: &mut Circuit, name: &str, cable: Option<&Cable>, a: &str, b: &str) -> Result<(), Error> {
        let end = self.far_end(c, name, b)?;
        match cable {
            Some(cable) => c.add(name, cable.clone(), [("a", a), ("b", &end)]),
            None => c.add(name, Resistor { resistance: Resistance::from_si(BUS_BAR) }, [("a", a), ("b", &end)]),
        }
    }

    /// Where a conductor or device ends that should end at `node`: there, or before a resistance that a fault puts between.
    fn far_end(&self, c: &mut Circuit, name: &str, node: &str) -> Result<String, Error> {
        let Some(&resistance) = self.faults.series.get(name) else { return Ok(node.into()) };
        let end = format!("{name}_break");
        c.add(&end, Resistor { resistance }, [("a", end.as_str()), ("b", node)])?;
        Ok(end)
    }

    /// Paths that should not be there.
    fn add_bridges(&self, c: &mut Circuit) -> Result<(), Error> {
        for (name, bridge) in &self.faults.bridges {
            for node in [&bridge.from, &bridge.to] {
                let nodes = c.node_names();
                if !nodes.contains(&node.as_str()) {
                    let known = crate::circuit::closest(node, nodes.into_iter());
                    return Err(TopologyError::UnknownNode { node: node.clone(), known }.into());
                }
            }
            let path = Resistor { resistance: bridge.resistance };
            c.add(&format!("{name}_bridge"), path, [("a", bridge.from.as_str()), ("b", bridge.to.as_str())])?;
        }
        Ok(())
    }

    /// Control supply wire, switch, signal wires, coil return wire.
    fn add_control(&self, c: &mut Circuit, control: &Control) -> Result<(), Error> {
        let wiring = &self.control;
        let tap = self.own_name(match wiring.supply {
            ControlSupply::BeforeBreaker => "breaker_in",
            ControlSupply::AfterBreaker => "breaker_out",
        });
        let wire = |resistance| Resistor { resistance };
        let end = self.far_end(c, "control_supply_wire", "control_supply")?;
        c.add("control_supply_wire", wire(wiring.supply_wire_resistance), [("a", tap.as_str()), ("b", &end)])?;
        for direction in Direction::BOTH {
            let letter = direction.letter();
            let swapped = self.faults.signal_wires_swapped;
            let on = if swapped { direction.opposite().letter() } else { letter };
            let (out, coil) = (format!("control_out_{letter}"), format!("coil_{on}"));
            let switch = Switch::worked(control.spans(direction));
            let name = format!("control_switch_{letter}");
            let end = self.far_end(c, &name, &out)?;
            c.add(&name, switch, [("a", "control_supply"), ("b", end.as_str())])?;
            let terminal = self.terminal_end(c, letter, &coil)?;
            let name = format!("signal_wire_{letter}");
            let end = self.far_end(c, &name, &terminal)?;
            c.add(&name, wire(wiring.signal_wire_resistance), [("a", out.as_str()), ("b", end.as_str())])?;
        }
        let back = match wiring.coil_return {
            CoilReturn::BatteryNegative => "battery_negative",
            CoilReturn::GroundStud => "ground_stud",
            CoilReturn::Case => "case",
        };
        let end = self.far_end(c, "coil_return_wire", back)?;
        c.add("coil_return_wire", wire(wiring.return_wire_resistance), [("a", "coil_return"), ("b", &end)])
    }

    /// Where a signal wire ends: on its coil, or on a lug of its own where the terminal is bad.
    fn terminal_end(&self, c: &mut Circuit, letter: &str, coil: &str) -> Result<String, Error> {
        let name = format!("coil_{letter}_terminal");
        let Some(&resistance) = self.faults.series.get(&name) else { return Ok(coil.into()) };
        let lug = format!("coil_{letter}_lug");
        c.add(&name, Resistor { resistance }, [("a", lug.as_str()), ("b", coil)])?;
        Ok(lug)
    }
}
