"""How things look in a terminal and in a notebook."""

import pathlib
import subprocess
import sys

import stallpoint as sp
from stallpoint import plot


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


def test_exact_pictures_of_runs_end_soon_after_nothing_changes_and_mark_the_control() -> None:
    study = sp.surge_study(sp.Drive.demo("boat_lift"))
    start = plot.waveforms(study.start("forward"))
    assert start[2].get_xlim()[1] < 1.0 and "goes on unchanged to 3 s" in start[2].get_xlabel()
    assert plot.waveforms(study.start("forward"), whole=True)[2].get_xlim()[1] >= 3.0
    reversal = plot.waveforms(study.run("reversal", "forward"))
    words = [text.get_text() for text in reversal[1].texts]
    assert words == ["control released", "control to reverse"]
    surge = study.plot()
    dot = next(line for line in surge.lines if line.get_label() == "end of the hold")
    assert surge.get_xlim()[0] < dot.get_xdata()[0] < surge.get_xlim()[1]


def test_exact_the_end_of_a_light_surge_is_in_sight() -> None:
    light = sp.Drive.demo("boat_lift").with_values({"load.0.running": "0.4 N m", "load.0.breakaway": "0.5 N m", "load.1.torque": "0 N m"})
    surge = sp.surge_study(light).plot()
    dot = next(line for line in surge.lines if line.get_label() == "end of the hold")
    assert dot.get_xdata()[0] < 40 and surge.get_xlim()[0] < dot.get_xdata()[0]
