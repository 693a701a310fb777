"""Story 4, second half: from readings to the fault, and the sheet that proves the repair."""

import pickle

import pytest
import stallpoint as sp


def test_faults_found() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    bad = drive.with_fault(sp.Fault("ground_stud_joint", resistance="60 mohm"))
    table = sp.readings(bad)  # probe pair x control position x instrument
    assert len(table.to_pandas()) == len(table) > 100

    finder = sp.FaultFinder(drive, draws=2)  # the default draws more
    test = finder.next_test()  # probes, control position, instrument, why (bits), caution
    assert test.bits > 0 and test.why and test.caution
    finder.observe(control="forward", instrument="watch the motor", reading="stands")
    finder.observe("supply_stud", "ground_stud", control="forward", instrument="voltmeter", reading="7.9 V")
    finder.observe("ground_stud", "ground_stud_lug", control="forward", instrument="voltmeter", reading="4.6 V")
    first = finder.ranking()[0]  # Fault, probability, what would tell it from the next
    assert first.fault.part == "ground_stud_joint" and first.probability > 0.5 and first.told_from_next_by
    assert "ground" in finder.reason()
    assert "Make safe" in sp.procedure(finder).text
    step = finder.steps()[6]  # what each step tests, healthy value, published limit, meanings, caution
    assert isinstance(step, sp.ProcedureStep) and "ground stud" in step.tests[0] and step.meanings[0].faults[0] == step.tests[0]
    assert "published for 12 V" in step.limits[0] and step.healthy < 0.05 < step.meanings[0].shows[0]


def test_a_slip_is_refused_and_twins_are_one_answer() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    finder = sp.FaultFinder(drive, draws=2)
    with pytest.raises(sp.ImplausibleReadingError, match="2700 mV would be 2.7 V") as slip:
        finder.observe("ground_stud", "battery_negative", control="forward", reading=2700)
    assert slip.value.largest < 30 and slip.value.unit == "V"
    assert [row.probability for row in finder.ranking()] == [row.probability for row in sp.FaultFinder(drive, draws=2).ranking()]
    bad = drive.with_fault(sp.Fault("supply_contact_a", "not_making"))
    while test := finder.next_test():
        assert isinstance(test, sp.NextTest)
        reading = finder.shown(bad, *test.probes, control=test.control, instrument=test.instrument)
        finder.observe(*test.probes, control=test.control, instrument=test.instrument, reading=reading)
    first = finder.ranking()[0]
    assert isinstance(first, sp.Ranked) and first.probability > 0.95
    assert {(fault.part, fault.mode) for fault in (first.fault, *first.others)} == {
        ("supply_contact_a", "not_making"), ("ground_contact_a", "welded")}
    assert "cannot be told apart by these instruments" in finder.reason()
    assert any(entry.hazard for entry in sp.fault_catalogue(drive))


def test_refit_and_proof() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    assert {(row.motor_wires, row.signal_wires): row.forward for row in sp.swap_table(drive)[:4]} == {
        (False, False): 1, (True, False): -1, (False, True): -1, (True, True): 1}
    assert sp.check_wiring(drive, [tuple(vars(wire).values()) for wire in sp.wiring_map(drive)]) == []
    sheet = sp.commissioning_sheet(drive)
    assert sheet.fill(0, sheet.lines[0].expected) == "pass"
    assert "Wiring map" in sheet.report.markdown and "Danger" in sheet.report.markdown
    small = next(k for k, line in enumerate(sheet.lines) if line.unit == "V" and 0 < abs(line.expected) < 0.1)
    assert sheet.fill(small, f"{1e3 * sheet.lines[small].expected} mV") == "pass"  # a prefix is for the user to give

    compared = sp.compare(drive, drive.with_fault(sp.Fault("ground_stud_joint", resistance="0.13 ohm")))
    assert compared.to_pandas().loc["ground_stud", ("held 2 s", "faulty")] > 5
    fault = sp.Fault("motor", "worn_brushes", amount=0.1)
    assert pickle.loads(pickle.dumps(fault)) == fault and len(sp.fault_catalogue(drive)) > 90
