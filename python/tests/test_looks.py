"""How things look in a terminal and in a notebook."""

import pathlib
import subprocess
import sys

import stallpoint as sp


def test_exact_tables_in_notebooks() -> None:
    drive = sp.Drive.demo("boat_lift")
    start = drive.start("forward", hold="0.3 s")
    assert "<table>" in start._repr_html_() and "pulls in" in start._repr_html_()
    assert "<table>" in start.energy._repr_html_() and "<table>" in start.surge._repr_html_()
    assert "Boat lift" in drive._repr_html_()
    assert "<table>" in drive.operating_point()._repr_html_()
    study = sp.surge_study(drive, hold="0.5 s")
    assert "<td>pass</td>" in study._repr_html_() and study.checks.to_pandas().shape[1] == 11


def test_exact_texts_in_terminals() -> None:
    drive = sp.Drive.demo("boat_lift")
    assert repr(drive) == '<Drive "Boat lift">'
    assert repr(drive.start("forward", hold="0.3 s")).startswith("<Start of ")
    assert repr(sp.Resistor("30 mohm")) == "Resistor(resistance='30 mohm')"
    assert repr(sp.Control().forward(0, 1)) == "Control().forward(0, 1)"
    assert str(drive.start("forward", hold="0.3 s").events[0]).endswith("contactor coil A pulls in")


def test_exact_a_failed_case_keeps_its_place() -> None:
    drive = sp.Drive.demo("boat_lift")
    grid = sp.sweep(drive, {"supply_cable.length": [4, -1, 8]}, ["peak_current"], hold="0.1 s")
    assert [reason is None for reason in grid.failures] == [True, False, True]
    assert "length" in grid.failures[1] and grid.to_xarray()["failure"].shape == (3,)
    assert "1 failed" in repr(grid)


def test_exact_the_command_writes_everything(tmp_path: pathlib.Path) -> None:
    drive = tmp_path / "drive.toml"
    sp.Drive.demo("boat_lift").to_toml(drive)
    command = [sys.executable, "-m", "stallpoint", str(drive), "--output", str(tmp_path / "out")]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("Surge study: Boat lift")
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"report.txt", "report.md", "report.html", "surge.png", "volts.png", "start_forward.csv"} <= names
    assert "http" not in (tmp_path / "out" / "report.html").read_text()
    failed = subprocess.run([*command[:3], str(tmp_path / "none.toml")], capture_output=True, text=True, check=False)
    assert failed.returncode == 1 and "check the path" in failed.stderr
