"""``python -m stallpoint DRIVE.toml --output FOLDER``: the start-up surge of a drive against its trip band.

Prints the report and writes it with the pictures and the waveforms into the folder.
"""

from __future__ import annotations

import argparse
import pathlib
import sys
from collections.abc import Sequence

import numpy as np

import stallpoint as sp
from stallpoint import plot


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the study; returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m stallpoint", description="Start-up surge of a drive against its trip band.")
    parser.add_argument("drive", type=pathlib.Path, help="the drive's TOML file")
    parser.add_argument("--output", type=pathlib.Path, default=pathlib.Path("surge"), help="folder to write to (default: surge)")
    given = parser.parse_args(arguments)
    try:
        study = sp.surge_study(sp.Drive.from_toml(given.drive))
        given.output.mkdir(parents=True, exist_ok=True)
        written = write(study, given.output)
    except (sp.errors.StallpointError, OSError) as error:
        where = "" if str(given.drive) in str(error) else f"{given.drive}: "
        print(f"{where}{error}", file=sys.stderr)
        return 1
    print(study.to_text())
    print("Written: " + ", ".join(str(path) for path in written))
    return 0


def write(study: sp.SurgeStudy, folder: pathlib.Path) -> list[pathlib.Path]:
    """Writes report, pictures and waveforms; returns the files."""
    import matplotlib

    matplotlib.use("Agg")
    import matplotlib.pyplot as plt

    written = []

    def text(name: str, content: str) -> None:
        (folder / name).write_text(content, encoding="utf-8")
        written.append(folder / name)

    def picture(name: str, figure: object) -> None:
        figure.savefig(folder / name, dpi=120)  # type: ignore[attr-defined]
        plt.close(figure)  # type: ignore[arg-type]
        written.append(folder / name)

    text("report.txt", study.to_text())
    text("report.md", study.to_markdown())
    text("report.html", study.to_html())
    picture("surge.png", study.plot().figure)
    picture("volts.png", plot.volts(study).figure)
    for direction in ("forward", "reverse"):
        start = study.start(direction)
        picture(f"start_{direction}.png", plot.waveforms(start, f"{study.drive.name}: start {direction}")[0].figure)
        reversal = study.run("reversal", direction)
        picture(f"reversal_{direction}.png", plot.waveforms(reversal, f"{study.drive.name}: reversal from {direction}")[0].figure)
        path = folder / f"start_{direction}.csv"
        device = study.drive.protection
        heads = ["time_s", f"{device}_A", "motor_A", "speed_rad_per_s", "battery_V", "stud_V", "coil_V"]
        coil = "coil_a" if direction == "forward" else "coil_b"
        columns = [
            start.time,
            start.current(device),
            start.current("motor"),
            start.state("motor", "speed"),
            start.voltage("battery_positive"),
            start.voltage("supply_stud", "ground_stud"),
            start.voltage(coil, "coil_return"),
        ]
        table = np.column_stack(columns)
        table[np.abs(table) < 1e-9] = 0.0  # what is left of a solver's tolerance is nothing anyone could measure
        np.savetxt(path, table, delimiter=",", header=",".join(heads), comments="", fmt="%.9g")
        written.append(path)
    return written


if __name__ == "__main__":
    sys.exit(main())
