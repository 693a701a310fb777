"""Everything that is asked of the boat lift, asked of every demo drive."""

import pytest
import stallpoint as sp

DEMOS = ("boat_lift", "conveyor_gate", "stage_lift")
#: Nominal voltage, V; what the readings of a meter across the battery must be near.
VOLTS = {"boat_lift": 12.0, "conveyor_gate": 24.0, "stage_lift": 48.0}


@pytest.fixture(params=DEMOS)
def drive(request: pytest.FixtureRequest) -> sp.Drive:
    return sp.Drive.demo(request.param)


def nominal(drive: sp.Drive) -> float:
    return VOLTS[drive.name.lower().replace(" ", "_")]


def test_prop_a_start_either_way_runs_up_without_a_trip(drive: sp.Drive) -> None:
    assert drive.doubts() == []
    study = sp.surge_study(drive)
    for direction in ("forward", "reverse"):
        surge = study.start(direction).surge
        assert surge.trips == "no" and not surge.stalled and surge.dropouts == 0
        assert surge.time_to_speed is not None and surge.time_to_speed < 1
    # What fails or may fail is a stall that the breaker is too slow for, and the report says how long a hold may last.
    judged = [check for check in study.checks if check.verdict in ("fail", "may")]
    assert judged and all(check.requirement.startswith("Stalled") and "limit the hold" in check.requirement for check in judged)
    assert "Do not hold a stalled motor longer than" in study.to_text()


def test_prop_readings_of_a_healthy_drive(drive: sp.Drive) -> None:
    rows = sp.readings(drive)
    battery = [row for row in rows if row.instrument == "voltmeter" and (row.plus, row.minus) == ("battery_positive", "battery_negative")]
    assert {row.control for row in battery} >= {"at rest", "forward", "reverse"}
    for row in battery:
        assert isinstance(row.shows, float) and 0.8 * nominal(drive) < row.shows < 1.2 * nominal(drive), row
    assert len(sp.swap_table(drive)) == 16 and len(sp.commissioning_sheet(drive).lines) > 10


def test_prop_a_bad_ground_stalls_it_and_shows_under_load_only(drive: sp.Drive) -> None:
    limit = drive.stall_threshold("ground_stud_joint").stalls_at
    assert limit is not None
    bad = drive.with_fault(sp.Fault("ground_stud_joint", resistance=1.2 * limit))
    run = bad.start("forward", hold="2 s")
    assert run.surge.trips == "no"
    # A pump whose pressure does not move its load still turns as fast as it leaks.
    speeds = [start.sample([2.0]).state("motor", "speed")[0] for start in (run, drive.start("forward", hold="2 s"))]
    assert run.surge.stalled if drive.name != "Stage lift" else 0 < speeds[0] < 0.1 * speeds[1]
    across = run.sample([2.0]).voltage("ground_stud", "ground_stud_lug")[0]
    assert across > 0.3 * nominal(drive)
    assert abs(bad.operating_point().voltage("ground_stud", "ground_stud_lug")) < 1e-3


def test_prop_duty_and_sizes(drive: sp.Drive) -> None:
    study = sp.duty_study(drive, sp.Cycle().forward("10 s").rest("5 min").reverse("10 s").rest("5 min"))
    winding = study.parts["motor winding"]
    assert 20 < winding.highest < winding.limit
    own = drive.description["supply_cable"]["cross_section"]
    found = sp.size(drive, {"supply_cable.cross_section": [own, "4 mm2"]})
    as_it_is, thin = found.candidates
    assert list(thin.chosen.values()) == ["4 mm2"] and thin.state == "rejected" and thin.reasons
    # As it is, only a stall behind a bad joint breaks a requirement, if any does.
    assert all("tall" in reason for reason in as_it_is.reasons), as_it_is.reasons
