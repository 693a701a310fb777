"""Long calls: the GIL, Ctrl-C, progress, cancelling."""

import os
import signal
import subprocess
import sys
import textwrap
import threading
import time

import numpy as np
import pytest
import stallpoint as sp

def _chattering() -> sp.Drive:
    return sp.Drive.demo("boat_lift").with_values(
        {"control.coil_return": "ground_stud", "ground_stud_joint.resistance": 0.13}
    )


def test_exact_ctrl_c_ends_a_run() -> None:
    code = textwrap.dedent(
        """
        import signal, sys
        import stallpoint as sp
        signal.signal(signal.SIGINT, signal.default_int_handler)  # a job in the background is born deaf to it
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
    sent = time.monotonic()
    os.kill(child.pid, signal.SIGINT)
    assert child.wait(timeout=10) == 77
    assert time.monotonic() - sent < 1.0  # it looks for signals every 50 ms; the rest is the interpreter's end


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


def test_exact_the_gil_is_released(slow_circuit: sp.Circuit) -> None:
    # Another thread goes on counting while the run is made, and stops it.
    ticks = 0
    stop = threading.Event()

    def count() -> None:
        nonlocal ticks
        while not stop.is_set():
            ticks += 1
            time.sleep(0.001)

    def watch(fraction: float) -> bool:
        seen.append(ticks)
        return time.monotonic() < until

    seen: list[int] = []
    thread = threading.Thread(target=count)
    thread.start()
    until = time.monotonic() + 0.5
    run = slow_circuit.transient(until=1000, max_step=1e-5, max_steps=10**9, progress=watch)
    stop.set()
    thread.join()
    assert run.ending == "cancelled"
    assert len(seen) >= 3
    # Without the release the counter would stand still between the calls of `watch`.
    assert sum(after > before for before, after in zip(seen, seen[1:], strict=False)) >= 2
    assert seen[-1] - seen[0] > 20


def test_exact_two_threads_run_at_once(motor_circuit: sp.Circuit) -> None:
    results: list[sp.Run] = []
    work = [threading.Thread(target=lambda: results.append(motor_circuit.transient(until=0.5))) for _ in range(4)]
    for thread in work:
        thread.start()
    for thread in work:
        thread.join()
    assert len(results) == 4
    for run in results[1:]:
        np.testing.assert_array_equal(run.current("motor"), results[0].current("motor"))


def test_exact_progress_rises_to_one(motor_circuit: sp.Circuit) -> None:
    seen: list[float] = []
    motor_circuit.transient(until=0.5, max_step=2e-6, progress=seen.append)
    assert len(seen) >= 2
    assert seen == sorted(seen)
    assert 0.0 <= seen[0] < 1.0
    assert seen[-1] == 1.0


def test_exact_a_cancelled_run_keeps_what_was_computed(slow_circuit: sp.Circuit) -> None:
    run = slow_circuit.transient(until=1000, max_step=1e-5, max_steps=10**9, progress=lambda fraction: False)
    assert run.ending == "cancelled"
    assert len(run) > 10
    assert run.time[-1] < 1000
    assert run.state_at_end() is not None


def test_exact_an_exception_of_the_progress_function_is_raised(slow_circuit: sp.Circuit) -> None:
    def progress(fraction: float) -> None:
        raise RuntimeError("enough")

    with pytest.raises(RuntimeError, match="enough"):
        slow_circuit.transient(until=1000, max_step=1e-5, max_steps=10**9, progress=progress)


def test_exact_a_bar_is_drawn(motor_circuit: sp.Circuit, capsys: pytest.CaptureFixture[str]) -> None:
    motor_circuit.transient(until=0.1, progress=True)
    assert "100.0 %" in capsys.readouterr().err


def test_exact_text_is_written_without_tqdm(
    motor_circuit: sp.Circuit, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "tqdm.auto", None)
    motor_circuit.transient(until=0.1, progress=True)
    assert capsys.readouterr().err.endswith("100.0 %\n")


def test_exact_runs_end_as_they_say(motor_circuit: sp.Circuit) -> None:
    assert motor_circuit.transient(until=0.1).ending == "finished"
    assert motor_circuit.transient(until=0.1, max_steps=5).ending == "step limit"
    stopped = motor_circuit.transient(until=0.1, stop_at_event_of="motor.shaft")
    assert stopped.ending == "stopped at event"
    assert stopped.time[-1] == stopped.events[-1].time
