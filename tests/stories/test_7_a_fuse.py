"""Story 7: a drive behind a fuse."""

import pytest

import stallpoint as sp


def test_a_fuse_in_the_breakers_place(tmp_path) -> None:  # type: ignore[no-untyped-def]
    lift = sp.Drive.from_toml("boat_lift.toml")
    assert lift.protection == "breaker"
    drive = lift.with_values({"fuse": sp.Fuse("60 A", "blade_maxi")})
    assert drive.protection == "fuse" and "breaker" not in drive.description
    assert sp.Drive.from_toml_text(drive.to_toml()) == drive

    # A start does not blow it: between 100 A and 200 A for a fifth of a second.
    start = drive.start("forward", hold="3 s")
    assert start.surge.trips == "no" and start.surge.tripped_at is None
    assert start.current("fuse").max() == pytest.approx(start.surge.peak_current, rel=1e-3)

    # A jammed winch does, and for good.
    jammed = drive.with_values({"load": [{"kind": "resisting_torque", "running": 1000.0, "breakaway": 1000.0}]})
    run = jammed.run(sp.Control().forward("0 s", "60 s"), until="60 s")
    blown = [event for event in run.events if event.part == "fuse"]
    assert blown[0].what == "blows" and 0.5 < blown[0].time < 30
    assert abs(run.current("fuse")[-1]) < 1e-6

    # The surge study holds the start against the fastest fuse, the stall against the slowest.
    study = sp.surge_study(drive)
    i2t = next(check for check in study.checks if check.key == "surge_i2t" and "forward" in check.when)
    assert i2t.value == pytest.approx(start.surge.surge_i2t, rel=1e-3) and i2t.verdict == "pass"
    assert i2t.limit == pytest.approx(sp.Fuse("60 A", "blade_maxi").melting_i2t[0])
    assert any("the fuse opens in time" in check.requirement for check in study.checks)
    assert "breaker" not in study.to_text().replace("breaker or fuse", "").replace("Breaker or fuse", "")

    # A chandler's list: breakers and fuses in one catalogue.
    drive = lift.with_values({"limits.longest_hold": "15 s"})
    shelf = [
        {"name": "breaker 80 A", "values": {"breaker.rated_current": "80 A"}},
        {"name": "fuse 60 A", "values": {"fuse": sp.Fuse("60 A", "blade_maxi")}},
        {"name": "fuse 80 A", "values": {"fuse": sp.Fuse("80 A", "blade_maxi")}},
    ]
    options = sp.size(drive, {"protection": shelf})
    states = {candidate.chosen["protection"]: candidate.state for candidate in options.candidates}
    assert states["fuse 60 A"] == "rejected" and states["fuse 80 A"] != "rejected"

    # A blown fuse, looked for.
    fused = lift.with_values({"fuse": sp.Fuse("80 A", "blade_maxi")})
    bad = fused.with_fault(sp.Fault("fuse", "blown"))
    op = bad.operating_point("forward")
    assert op.voltage("fuse_in") > 12 and abs(op.voltage("fuse_out")) < 0.1

    with pytest.raises(sp.StallpointError, match="leave out the other"):
        sp.Drive(**{**lift.description, "fuse": sp.Fuse("60 A", "blade_maxi")})
    with pytest.raises(sp.ValueKeyError, match="whole table"):
        lift.with_values({"fuse.rated_current": "60 A"})
