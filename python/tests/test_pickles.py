"""Pickles, bit for bit."""

import pickle

import numpy as np
import stallpoint as sp


def _again(value: object) -> object:
    return pickle.loads(pickle.dumps(value))


def test_exact_drives_and_what_goes_with_them() -> None:
    drive = sp.Drive.demo("boat_lift").with_values({"supply_cable.length": 0.1 + 0.2})
    assert _again(drive) == drive
    current = drive.start("forward", hold="0.2 s").current("motor")
    np.testing.assert_array_equal(_again(drive).start("forward", hold="0.2 s").current("motor"), current)
    control = sp.Control().forward(0, 1.2).reverse(1.25, 2.5)
    assert repr(_again(control)) == repr(control)
    fault = sp.Fault("ground_stud_joint", resistance=0.1 + 0.2)
    assert _again(fault).resistance == fault.resistance


def test_exact_parts_and_circuits() -> None:
    motor = sp.Motor.permanent_magnet(
        resistance=0.1 + 0.2, inductance="1 mH", torque_constant="0.05 N m/A", inertia="0.01 kg m2"
    )
    assert _again(motor) == motor
    c = sp.Circuit()
    c.add("source", sp.VoltageSource.table([0, 1], [0, 12]), plus="p", minus="ground")
    c.add("motor", motor, plus="p", minus="ground")
    c.attach("motor", sp.Load.viscous_torque("1e-3 N m s/rad"))
    np.testing.assert_array_equal(_again(c).transient(2.0).current("motor"), c.transient(2.0).current("motor"))


def test_exact_runs_become_plain_arrays() -> None:
    run = sp.Drive.demo("boat_lift").start("forward", hold="0.2 s")
    again = _again(run)
    np.testing.assert_array_equal(again.time, run.time)
    np.testing.assert_array_equal(again.current("motor"), run.current("motor"))
    np.testing.assert_array_equal(again.voltage("supply_stud", "ground_stud"), run.voltage("supply_stud", "ground_stud"))
    np.testing.assert_array_equal(again.state("motor", "speed"), run.state("motor", "speed"))
    assert (again.events, again.surge, again.ending) == (run.events, run.surge, run.ending)
    op = sp.Drive.demo("boat_lift").operating_point("forward")
    assert _again(op).voltage("supply_stud") == op.voltage("supply_stud")
