"""Story 4, second half: from readings to the fault, and the sheet that proves the repair."""

import pickle

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


def test_refit_and_proof() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    assert {(row.motor_wires, row.signal_wires): row.forward for row in sp.swap_table(drive)[:4]} == {
        (False, False): 1, (True, False): -1, (False, True): -1, (True, True): 1}
    assert sp.check_wiring(drive, [tuple(vars(wire).values()) for wire in sp.wiring_map(drive)]) == []
    sheet = sp.commissioning_sheet(drive)
    assert sheet.fill(0, sheet.lines[0].expected) == "pass"
    assert "Wiring map" in sheet.report.markdown

    compared = sp.compare(drive, drive.with_fault(sp.Fault("ground_stud_joint", resistance="0.13 ohm")))
    assert compared.to_pandas().loc["ground_stud", ("held 2 s", "faulty")] > 5
    fault = sp.Fault("motor", "worn_brushes", amount=0.1)
    assert pickle.loads(pickle.dumps(fault)) == fault and len(sp.fault_catalogue(drive)) > 90
