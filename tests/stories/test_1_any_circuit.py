"""Story 1: any circuit."""

import numpy as np
import stallpoint as sp


def test_any_circuit() -> None:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("12.6 V"), plus="p", minus="ground")
    c.add("joint", sp.Resistor("30 mohm"), a="p", b="stud")
    c.add("motor", sp.Motor.permanent_magnet(resistance="25 mohm", inductance="120 uH", torque_constant="0.045 N m/A",
                                             inertia="0.004 kg m2", brush_drop="0.8 V"), plus="stud", minus="ground")
    c.attach("motor", sp.Load.resisting_torque(running="3 N m", breakaway="3.6 N m"))   # opposes motion, holds at rest
    op = c.operating_point()
    assert not op.stuck
    assert abs(op.current("joint") - 3 / 0.045) < 1e-6
    assert abs(op.voltage("stud") - (12.6 - 0.03 * 3 / 0.045)) < 1e-6
    assert op.state("motor", "speed") > 0

    run = c.transient(until=1.5, rtol=1e-4)
    for array in (run.time, run.voltage("stud"), run.current("joint"), run.state("motor", "speed")):
        assert array.dtype == np.float64 and array.flags.c_contiguous and len(array) == len(run)
    assert [event.what for event in run.events] == ["starts forward"]
    assert (run.events[0].part, type(run.events[0].time)) == ("motor.shaft", float)

    sampled = run.sample(np.linspace(0, 1.5, 2001))
    assert len(sampled.current("joint")) == 2001
    assert abs(run.energy.residual) <= 1e-4 * run.energy.delivered
    assert run.energy["joint"].dissipated > 0 and run.energy["motor.shaft"].stored > 0
