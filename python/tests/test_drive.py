"""Drives in Python."""

import pytest
import stallpoint as sp


def boat_lift_in_code() -> sp.Drive:
    cable = {"insulation": "pvc_70", "ampacity": "85 A"}
    band = sp.TripBand.points(
        fastest=[[1.1, 900.0], [1.35, 60.0], [2.0, 8.0], [3.0, 3.0], [6.0, 0.5]],
        slowest=[[1.35, 1800.0], [2.0, 60.0], [3.0, 18.0], [6.0, 2.5]],
    )
    coil = sp.Coil(
        "12 V", "8 ohm", open_inductance="30 mH", sealed_inductance="50 mH", suppression=sp.Suppression.diode()
    )
    return sp.Drive(
        name="Boat lift",
        note="Demo data: invented, plausible, no source.",
        battery=sp.Battery.agm(
            "100 Ah",
            "6 mohm",
            state_of_charge="90 %",
            polarisation_resistance="3 mohm",
            polarisation_capacitance="600 F",
        ),
        battery_lead=sp.Cable("25 mm2", "0.4 m"),
        isolator=sp.Switch(contact=sp.Contact(closed_resistance="0.3 mohm")),
        isolator_lead=sp.Cable("25 mm2", "0.3 m"),
        breaker=sp.Breaker(
            "80 A",
            band,
            contact=sp.Contact(closed_resistance="0.8 mohm"),
            reset="automatic",
            cooling_time_constant="60 s",
        ),
        supply_cable=sp.Cable("16 mm2", "7 m", **cable),
        contactor=sp.ReversingContactor(
            coil,
            "7.8 V",
            "4.5 V",
            rest="braked",
            making_current="250 A",
            carrying_current="100 A",
            breaking_current="180 A",
            duty="intermittent",
            operate_time="12 ms",
            release_time="12 ms",
        ),
        motor_lead=sp.Cable("16 mm2", "0.6 m", **cable),
        motor=sp.Motor.permanent_magnet(
            resistance="42 mohm",
            inductance="130 uH",
            torque_constant="0.05 N m/A",
            inertia="0.0015 kg m2",
            brush_drop="0.8 V",
            viscous_friction="2e-4 N m s/rad",
            heat_capacity="150 J/K",
            thermal_resistance="1.2 K/W",
            max_winding_temperature_c="155 degC",
        ),
        load=[
            sp.Load.resisting_torque("2.5 N m", "3.1 N m", inertia="0.0005 kg m2"),
            sp.Load.gravity_torque("0.6 N m"),
        ],
        ground_cable=sp.Cable("16 mm2", "7 m", **cable),
        joints={"ground_stud_joint": "0.2 mohm"},
        control={"supply": "before_breaker", "coil_return": "battery_negative"},
        limits=sp.Drive.demo("boat_lift").description["limits"],
    )


def test_exact_a_drive_in_code_is_the_drive_in_its_file() -> None:
    assert boat_lift_in_code().description == sp.Drive.demo("boat_lift").description
    assert boat_lift_in_code() == sp.Drive.demo("boat_lift")


def test_exact_a_drive_reads_back_from_its_file(tmp_path: object) -> None:
    drive = boat_lift_in_code()
    path = tmp_path / "drive.toml"  # type: ignore[operator]
    path.write_text(drive.to_toml(), encoding="utf-8")
    assert sp.Drive.from_toml(path) == drive
    assert sp.Drive.from_toml(str(path)) == drive


def test_exact_changes_make_copies() -> None:
    drive = sp.Drive.demo("boat_lift")
    longer = drive.with_values({"supply_cable.length": "14 m", "ground_stud_joint.resistance": 0.06})
    assert longer != drive
    assert longer.description["supply_cable"]["length"] == "14 m"
    assert longer == drive.with_values({"supply_cable.length": 14}).with_fault(sp.Fault("ground_stud_joint", resistance=0.06))


def test_prop_stall_threshold_divides_starts_from_stalls() -> None:
    drive = sp.Drive.demo("boat_lift")
    limit = drive.stall_threshold("ground_stud_joint")
    assert (limit.which_first, limit.drops_out_at) == ("stalls", None)
    assert limit.stalls_at is not None
    # The threshold is for a shaft and charge at rest: a start that sags the battery stalls a little below it.
    weak = drive.with_fault(sp.Fault("ground_stud_joint", resistance=0.9 * limit.stalls_at)).start("forward", hold="3 s")
    stalled = drive.with_fault(sp.Fault("ground_stud_joint", resistance=1.1 * limit.stalls_at)).start("forward", hold="3 s")
    assert (weak.surge.stalled, stalled.surge.stalled) == (False, True)
    assert stalled.surge.time_to_speed is None


def test_prop_any_parameter_has_a_stall_threshold() -> None:
    drive = sp.Drive.demo("boat_lift")
    longest = drive.stall_threshold_of("supply_cable.length", 1.0, 1000.0).stalls_at
    assert longest is not None
    for factor, stuck in ((0.999, False), (1.001, True)):
        assert drive.with_values({"supply_cable.length": factor * longest}).operating_point("forward").stuck is stuck
    with pytest.raises(sp.ValueKeyError, match="battery.moon"):
        drive.stall_threshold_of("battery.moon", 1, 2)


def test_prop_both_directions_and_progress() -> None:
    seen: list[float] = []
    reverse = sp.Drive.demo("boat_lift").start("reverse", hold="0.5 s", progress=seen.append)
    assert reverse.state("motor", "speed")[-1] < 0
    assert seen[-1] == 1.0


def test_exact_wrong_directions_and_spans_are_named() -> None:
    with pytest.raises(sp.ArgumentError, match='"forward" or "reverse"'):
        sp.Drive.demo("boat_lift").start("up", hold=1)
    with pytest.raises(sp.ArgumentError, match="later than its start"):
        sp.Control().forward(1, 1)
    with pytest.raises(sp.ArgumentError, match="joint"):
        sp.Drive.demo("boat_lift").stall_threshold("battery")
