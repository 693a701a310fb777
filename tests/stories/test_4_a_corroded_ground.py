"""Story 4, first half: a fault switched on, and how bad a joint may get."""

import stallpoint as sp


def test_a_corroded_ground() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    limit = drive.stall_threshold("ground_stud_joint")  # ohm
    assert 0.05 < limit.stalls_at < 0.2 and limit.drops_out_at is None and limit.which_first == "stalls"

    bad = drive.with_fault(sp.Fault("ground_stud_joint", resistance="0.13 ohm"))  # the joint's total resistance
    run = bad.start("forward", hold="1 s")
    assert run.surge.stalled and run.surge.trips == "no"
    sound = drive.with_fault(sp.Fault("ground_stud_joint", resistance="60 mohm"))
    assert not sound.start("forward", hold="1 s").surge.stalled
    other = drive.with_values({"control.coil_return": "ground_stud"})
    assert other.with_fault(sp.Fault("ground_stud_joint", resistance="0.13 ohm")).start("forward", hold="1 s").surge.dropouts > 5
