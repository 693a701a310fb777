"""Pictures. They need matplotlib; lines differ by dash and mark as well as by colour, so they read in black and white."""

from __future__ import annotations

from typing import Any

import numpy as np

#: Colours that colour-blind eyes tell apart (M. Okabe and K. Ito, Color Universal Design, 2008).
BLACK, ORANGE, BLUE, GREEN, RED = "#000000", "#E69F00", "#0072B2", "#009E73", "#D55E00"


def _axes(ax: Any, size: tuple[float, float] = (8.0, 6.0)) -> Any:
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt

    _, made = plt.subplots(figsize=size, layout="constrained")
    return made


def surge(study: Any, ax: Any = None) -> Any:
    """The start-up surge over the trip band: current across, time up, both logarithmic.

    The line is the rms current since energising, which is what a thermal device feels; the band lies between the fastest and the
    slowest device. The caption says what decides.

    Args:
        study: a surge study.
        ax: matplotlib axes; new ones when left out.

    Returns:
        The axes.
    """
    ax = _axes(ax)
    picture = study.picture
    fast, slow = picture.fastest, picture.slowest
    times = np.geomspace(0.01, 3600, 400)

    def current_at(curve: Any) -> Any:
        order = np.argsort(curve.time)
        return np.interp(np.log(times), np.log(curve.time[order]), curve.current[order], right=curve.current[order][-1])

    ax.fill_betweenx(times, current_at(fast), current_at(slow), color=ORANGE, alpha=0.25, label="trip band")
    ax.plot(fast.current, fast.time, color=ORANGE, lw=1.2, label="fastest device")
    ax.plot(slow.current, slow.time, color=ORANGE, lw=1.2, ls="--", label="slowest device")
    if len(picture.cable.current):
        ax.plot(picture.cable.current, picture.cable.time, color=RED, lw=1.5, ls="-.", label="supply cable, k²S²")
    if picture.ampacity is not None:
        ax.plot([picture.ampacity] * 2, [5, 3600], color=RED, lw=1.5, ls=":", label="supply cable, ampacity")
    ax.plot(picture.rms.current, picture.rms.time, color=BLUE, lw=2.2, label="rms since energising")
    ax.plot(picture.rms.current[-1:], picture.rms.time[-1:], color=BLUE, marker="o", ls="none", label="end of the hold", zorder=5)
    ax.set(
        xscale="log",
        yscale="log",
        # The end of the surge must be in sight, however little a running drive draws.
        xlim=(0.8 * min(0.5 * picture.rated, max(picture.rms.current[-1], 1e-3 * picture.rated)), 20 * picture.rated),
        ylim=(0.01, 3600),
        xlabel="current, A",
        ylabel="time, s",
        title=f"{study.drive.name}: start-up surge and trip band",
    )
    _plain_ticks(ax)
    ax.grid(True, which="both", lw=0.3)
    ax.legend(loc="upper right")
    ax.figure.supxlabel(_wrapped(picture.caption), fontsize=8)
    return ax


def _plain_ticks(ax: Any) -> None:
    """Plain numbers on logarithmic axes."""
    from matplotlib.ticker import FuncFormatter, LogLocator

    for axis in (ax.xaxis, ax.yaxis):
        axis.set_major_locator(LogLocator(subs=(1.0, 2.0, 5.0)))
        axis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
        axis.set_minor_formatter(FuncFormatter(lambda *_: ""))


def _wrapped(text: str, width: int = 110) -> str:
    import textwrap

    return "\n".join(textwrap.wrap(text, width))


def _dense(run: Any) -> Any:
    """A run on a grid fine enough to draw: its own steps are too few for smooth curves, and its jumps stay upright."""
    own = run.time
    jumps = np.nextafter(own[1:][np.diff(own) == 0], -np.inf)
    grid = np.concatenate([np.linspace(own[0], own[-1], 1500), own, jumps])
    return run.sample(np.unique(grid[grid >= own[0]]))


def _eventful_until(run: Any) -> float:
    """When speed and current have been within 2 % of their last values ever since, with some time more; the end at most."""
    time = run.time
    last = time[0]
    for values in (run.state("motor", "speed"), run.current("motor")):
        off = np.abs(values - values[-1]) > 0.02 * max(np.ptp(values), 1e-9)
        if off.any():
            last = max(last, time[np.flatnonzero(off)[-1]])
    return float(min(time[-1], last + 0.5 * (last - time[0])))


def _marks(run: Any, first: float) -> list[tuple[float, str]]:
    """When the control was worked, and to what."""
    names = {"control_switch_a": "forward", "control_switch_b": "reverse"}
    worked = [event for event in run.events if event.part in names and event.what in ("closes", "opens")]
    marks = []
    for event in worked:
        if event.what == "closes":
            marks.append((event.time, f"control to {names[event.part]}"))
        elif event.time >= first:
            marks.append((event.time, "control released"))
    return marks


def waveforms(run: Any, title: str = "", axes: Any = None, *, whole: bool = False) -> Any:
    """Currents, speed and voltages of a drive's run, one above the other, with marks where the control was worked.

    The time axis ends soon after nothing changes any more; its label says how long the run goes on.

    Args:
        run: a run of a drive.
        title: heading of the picture.
        axes: three matplotlib axes; new ones when left out.
        whole: show the whole run, however little happens in it.

    Returns:
        The three axes.
    """
    events = run
    if axes is None:
        import matplotlib.pyplot as plt

        _, axes = plt.subplots(3, 1, figsize=(8, 8), sharex=True, layout="constrained")
    run = _dense(run)
    time = run.time
    axes[0].plot(time, run.current("motor"), color=BLACK, lw=1.2, label="motor")
    device = "fuse" if "fuse" in run.parts else "breaker"
    axes[0].plot(time, run.current(device), color=ORANGE, lw=1.2, ls="--", label=device)
    axes[0].set_ylabel("current, A")
    axes[1].plot(time, run.state("motor", "speed"), color=BLUE, lw=1.5, label="shaft")
    axes[1].set_ylabel("speed, rad/s")
    axes[2].plot(time, run.voltage("battery_positive"), color=BLACK, lw=1.2, label="battery")
    axes[2].plot(time, run.voltage("supply_stud", "ground_stud"), color=ORANGE, lw=1.2, ls="--", label="supply to ground stud")
    axes[2].plot(time, run.voltage("coil_a", "coil_return"), color=GREEN, lw=1.2, ls="-.", label="coil A")
    axes[2].plot(time, run.voltage("coil_b", "coil_return"), color=RED, lw=1.2, ls=":", label="coil B")
    axes[2].set_ylabel("voltage, V")
    until = time[-1] if whole else _eventful_until(run)
    more = "" if until >= time[-1] else f" (goes on unchanged to {time[-1]:g} s)"
    axes[2].set_xlabel(f"time, s{more}")
    if until > time[0]:
        axes[2].set_xlim(time[0], until)
    for at, words in _marks(events, time[0]):
        if at > until:
            continue
        for each in axes:
            each.axvline(at, color=BLACK, lw=1.0, ls=(0, (2, 2)))
        # Between two panels, where no curve runs.
        axes[1].annotate(
            words, (at, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 3), textcoords="offset points", va="bottom", fontsize=8,
        )
    for each in axes:
        each.grid(True, lw=0.3)
        each.legend(loc="best", fontsize=8)
    axes[0].set_title(title)
    return axes


def volts(study: Any, ax: Any = None, *, least: float = 0.03) -> Any:
    """Where the volts go round the loop, in each state of the drive.

    Args:
        study: a surge study.
        ax: matplotlib axes; new ones when left out.
        least: elements that never lose more than this, V, are left out.

    Returns:
        The axes.
    """
    ax = _axes(ax, (8.0, 7.0))
    states = study.volts
    rows = [k for k in range(len(states[0].drops)) if any(abs(state.drops[k].volts) > least for state in states)]
    names = [states[0].drops[k].element.replace("_", " ") for k in rows]
    height = 0.8 / len(states)
    looks = [("white", "//"), (ORANGE, ""), (BLUE, "\\\\")]
    for place, state in enumerate(states):
        colour, hatch = looks[place % len(looks)]
        at = np.arange(len(rows)) + (place - 0.5 * (len(states) - 1)) * height
        lost = [state.drops[k].volts for k in rows]
        label = f"{state.when} (battery {state.battery:.2f} V)"
        bars = ax.barh(at, lost, height, color=colour, hatch=hatch, edgecolor=BLACK, lw=0.5, label=label)
        ax.bar_label(bars, [f"{value:.2f} V" if abs(value) > 0.005 else "" for value in lost], padding=2, fontsize=7)
    ax.set_yticks(np.arange(len(rows)), names)
    ax.invert_yaxis()
    ax.margins(x=0.1)
    ax.set(xlabel="volts lost", title=f"{study.drive.name}: where the volts go, forward")
    ax.grid(True, axis="x", lw=0.3)
    ax.legend(loc="lower right", fontsize=8)
    return ax


def comparison(compared: Any, axes: Any = None) -> Any:
    """Volts along the loop of a healthy and a faulty drive, one picture for each moment.

    Args:
        compared: what ``compare`` returned.
        axes: as many matplotlib axes as moments; new ones when left out.

    Returns:
        The axes.
    """
    count = len(compared.moments)
    if axes is None:
        import matplotlib.pyplot as plt

        _, axes = plt.subplots(count, 1, figsize=(9, 8), sharex=True, layout="constrained")
    places = np.arange(len(compared.points))
    for k, ax in enumerate(axes):
        ax.plot(places, compared.healthy[k], color=BLUE, marker="o", lw=1.5, label="healthy")
        ax.plot(places, compared.faulty[k], color=RED, marker="s", lw=1.5, ls="--", label="faulty")
        ax.set(title=compared.moments[k], ylabel="volts to battery negative")
        ax.grid(True, lw=0.3)
    axes[0].legend(loc="upper right")
    axes[-1].set_xticks(places, [point.replace("_", " ") for point in compared.points], rotation=40, ha="right")
    return axes
