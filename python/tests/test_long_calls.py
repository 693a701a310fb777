"""Long calls: the GIL, Ctrl-C, progress, cancelling."""

import os
import signal
import subprocess
import sys
import textwrap
import threading
import time

import stallpoint as sp

LONG = """
import stallpoint as sp
c = sp.Circuit()
c.add("source", sp.VoltageSource.function(lambda t: 12.0), plus="p", minus="ground")
c.add("r", sp.Resistor(1), a="p", b="m")
c.add("coil", sp.Inductor("1 mH"), a="m", b="ground")
"""


def _chattering() -> sp.Drive:
    return sp.Drive.demo("boat_lift").with_values(
        {"control.coil_return": "ground_stud", "ground_stud_joint.resistance": 0.13}
    )


def test_exact_ctrl_c_ends_a_run() -> None:
    code = textwrap.dedent(
        """
        import sys
        import stallpoint as sp
        drive = sp.Drive.demo("boat_lift").with_values(
            {"control.coil_return": "ground_stud", "ground_stud_joint.resistance": 0.13})
        print("running", flush=True)
        try:
            drive.start("forward", hold="10 h", energy=False)
        except KeyboardInterrupt:
            sys.exit(77)
        """
    )
    child = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE)
    assert child.stdout is not None and child.stdout.readline() == b"running\n"
    time.sleep(0.5)
    os.kill(child.pid, signal.SIGINT)
    assert child.wait(timeout=10) == 77


def test_exact_other_threads_go_on() -> None:
    ticks = 0
    done = threading.Event()

    def tick() -> None:
        nonlocal ticks
        while not done.is_set():
            ticks += 1
            time.sleep(0.001)

    thread = threading.Thread(target=tick)
    thread.start()
    _chattering().start("forward", hold="2 s")
    done.set()
    thread.join()
    assert ticks > 10


def test_exact_progress_is_told_and_may_cancel() -> None:
    told: list[float] = []
    _chattering().start("forward", hold="3 s", progress=told.append)
    assert told[-1] == 1.0 and told == sorted(told)
    run = _chattering().start("forward", hold="60 s", progress=lambda fraction: fraction < 0.01)
    assert run.ending == "cancelled" and 0 < run.time[-1] < 60


def test_exact_a_cancelled_sweep_keeps_its_rows() -> None:
    values = {"ground_stud_joint.resistance": [0.12 + 0.001 * k for k in range(60)], "control.coil_return": ["ground_stud"]}
    grid = sp.sweep(sp.Drive.demo("boat_lift"), values, ["dropouts"], hold="3 s", progress=lambda fraction: fraction < 0.05)
    assert grid.ending == "cancelled" and len(grid.failures) == 60
    assert "cancelled" in {reason for reason in grid.failures if reason}
