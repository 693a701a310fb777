"""Story 2: a drive from a file, started."""

import stallpoint as sp


def test_a_drive_started() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    run = drive.start("forward", hold="3 s")
    surge = run.surge
    assert 100 < surge.peak_current < 250 and surge.peak_motor_current > 100
    assert 0 < surge.time_of_peak < surge.time_to_speed < 0.5
    assert surge.surge_i2t > 0 and surge.lowest_stud_voltage > 5 and surge.lowest_coil_voltage > 9
    assert (surge.stalled, surge.trips, surge.tripped_at, surge.dropouts) == (False, "no", None, 0)
    assert max(run.current("breaker")) <= surge.peak_current  # the run is all there

    study = sp.surge_study(drive)  # start, release, stalled release and reversal, both directions
    check = study.checks[0]
    assert check.requirement and check.unit and check.verdict in {"pass", "marginal", "fail", "may", "not checked"}
    assert {name for name in ("value", "limit", "margin", "basis", "when")} <= set(vars(check))
    axes = study.plot()  # current across, time up, both log
    assert (axes.get_xscale(), axes.get_yscale()) == ("log", "log")

    jog = sp.Control().forward("0 s", "1.2 s").reverse("1.25 s", "2.5 s")
    run = drive.run(jog, until="4 s")  # plugging, coasting, braking as the rest position says
    assert min(run.state("motor", "speed")) < -50 and abs(run.state("motor", "speed")[-1]) < 1e-9

    longer = drive.with_values({"supply_cable.length": "14 m", "battery.state_of_charge": 0.5})
    assert longer.start("forward", hold="1 s").surge.peak_current < surge.peak_current


def test_a_drive_in_code(tmp_path) -> None:
    points = [[1.1, 900], [2.0, 8.0], [6.0, 0.5]], [[1.4, 1800], [2.0, 60.0], [6.0, 2.5]]
    drive = sp.Drive(
        name="Winch",
        battery=sp.Battery.agm("100 Ah", "6 mohm", state_of_charge=0.9),
        isolator=sp.Switch(),
        breaker=sp.Breaker("80 A", sp.TripBand.points(*points)),
        supply_cable=sp.Cable("16 mm2", "7 m"),
        contactor=sp.ReversingContactor(sp.Coil("12 V", "8 ohm"), "7.8 V", "4.5 V"),
        motor=sp.Motor.permanent_magnet(resistance="42 mohm", inductance="130 uH", torque_constant="0.05 N m/A",
                                        inertia="0.002 kg m2", brush_drop="0.8 V"),
        load=[sp.Load.resisting_torque(running="2.5 N m", breakaway="3.1 N m")],
        ground_cable=sp.Cable("16 mm2", "7 m"),
        joints={"ground_stud_joint": sp.Joint("2 mohm")},
    )
    assert not drive.start("reverse", hold="1 s").surge.stalled
    path = tmp_path / "winch.toml"
    drive.to_toml(path)
    assert sp.Drive.from_toml(path) == drive
