//! Each requirement whose edge is found on a value of the circuit itself.

use super::hair::Trial;
use super::support::at;

fn on(key: &str, number: &str, values: &[(&str, &str)], good: f64, bad: f64) {
    Trial::circuit(key, &|x| at(values, &[(number, x)]), good, bad).hangs_by_a_hair();
}

#[test]
fn exact_volts_lost() {
    // A shorter way on the other side keeps both runs together within theirs.
    let short_back = [("ground_cable.length", "5 m"), ("limits.supply_drop", "5.5 %")];
    on("supply_drop", "supply_cable.length", &short_back, 7.0, 8.5);
    let short_there = [("supply_cable.length", "5 m"), ("limits.ground_drop", "4.5 %")];
    on("ground_drop", "ground_cable.length", &short_there, 7.0, 8.5);
    on("run_drop", "ground_cable.length", &[], 7.0, 8.0);
    on("joints_drop", "ground_stud_joint.resistance", &[], 0.2e-3, 7e-3);
    on("contactor_drop", "contactor.contacts.closed_resistance", &[], 0.3e-3, 3e-3);
}

#[test]
fn exact_torque_and_time() {
    on("breakaway", "load.0.breakaway", &[("limits.torque_reserve", "60 %")], 4.0, 5.5);
    on("time_to_speed", "load.0.inertia", &[], 0.0005, 0.006);
}

#[test]
fn exact_battery_sag_and_pull_in() {
    on("battery_sag", "battery.series_resistance", &[], 6e-3, 16e-3);
    on("pull_in", "contactor.pull_in_voltage", &[], 7.8, 11.0);
}

/// A motor lead so thin that the slowest device is too late for it.
#[test]
fn exact_withstand() {
    let drive = |mm2: f64| {
        let size = format!("{mm2} mm2");
        super::support::with(&[("motor_lead.cross_section", &size), ("motor_lead.length", "0.1 m")])
    };
    Trial::circuit("withstand", &drive, 16.0, 6.0).hangs_by_a_hair();
}
