"""P1c by Python peers: IDA through scikit-sundae, and SciPy's Radau and BDF on a reduced form.

``peers.py FOLDER ROUNDS``: prints one line per set, its fields apart by tabs, and writes its samples to FOLDER.
"""

import statistics
import sys
import time
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from sksundae.ida import IDA

from drive import END, FIRST_STATE, GRID, GUARDS, N, Drive, columns, compile_library


def by_sundae(drive: Drive, y: np.ndarray, rtol: float, algebraic: float, first: float) -> np.ndarray:
    """IDA in Python, dense and analytic; it cannot leave algebraic unknowns out of its error test."""
    atol = rtol * drive.size
    atol[:FIRST_STATE] *= algebraic
    dense = np.empty((N, N))

    def residual(t, y, yp, out):
        drive.residual(t, y, yp, out)

    def jacobian(t, y, yp, res, cj, out):
        drive.jacobian(t, cj, y, dense)
        out[:, :] = dense

    def guards(t, y, yp, out):
        out[:] = drive.guards(t, y)

    guards.terminal = [True] * GUARDS
    guards.direction = [1] * GUARDS
    t, slopes, found = 0.0, np.zeros(N), []
    while t < END:
        stop = drive.next_time()
        solver = IDA(residual, rtol=rtol, atol=atol, jacfn=jacobian, eventsfn=guards, num_events=GUARDS,
                     algebraic_idx=list(range(FIRST_STATE)), max_num_steps=100000, first_step=1e-8 if t else 0.0)
        inside = GRID[(GRID > t) & (GRID < stop)]
        solution = solver.solve(np.concatenate([[t], inside, [stop]]), y, slopes)
        if not solution.success:
            raise ArithmeticError(f"{solution.message} at {solution.t[-1]} s")
        here = np.isin(solution.t, GRID)
        found.append(solution.y[here])
        t, y, guard = solution.t[-1], solution.y[-1].copy(), None
        if solution.i_events is not None and len(solution.i_events):
            guard = int(np.flatnonzero(solution.i_events[-1])[0])
            t, y = float(solution.t_events[-1]), np.array(solution.y_events[-1])
        if t >= END:
            break
        drive.fire(t, y, guard)
        t, slopes = drive.settle(t, y, rtol, first)
    return columns(np.concatenate(found))


def by_scipy(drive: Drive, y: np.ndarray, rtol: float, method: str) -> np.ndarray:
    """The eight states alone: each evaluation solves the algebraic unknowns. Needs the core loss, without which P1c has a
    cutset of inductors and the states do not determine them."""
    algebraic, still = y.copy(), np.zeros(N)
    dense, out = np.empty((N, N)), np.empty(N)
    known: dict[str, object] = {"t": None}

    def whole(t, states):
        if known["t"] == t and np.array_equal(known["states"], states):
            return known["whole"]
        values = algebraic.copy()
        values[FIRST_STATE:] = states
        last = np.inf
        for _ in range(100):
            drive.residual(t, values, still, out)
            drive.jacobian(t, 0.0, values, dense)
            change = np.linalg.solve(dense[:FIRST_STATE, :FIRST_STATE], out[:FIRST_STATE])
            values[:FIRST_STATE] -= change
            size = np.max(np.abs(change))
            if size < 1e-9 or (size < 1e-6 and size >= last):
                break
            last = size
        else:
            raise ArithmeticError(f"no algebraic values at {t} s")
        drive.residual(t, values, still, out)
        known.update(t=t, states=states.copy(), whole=values, slopes=-out[FIRST_STATE:] / drive.storage[FIRST_STATE:])
        algebraic[:] = values
        return values

    def slope(t, states):
        whole(t, states)
        return known["slopes"]

    def event(k):
        def value(t, states):
            return drive.guards(t, whole(t, states))[k]
        value.terminal, value.direction = True, 1
        return value

    events = [event(k) for k in range(GUARDS)]
    t, states, found = 0.0, y[FIRST_STATE:].copy(), []
    while t < END:
        stop = drive.next_time()
        inside = GRID[(GRID > t) & (GRID <= stop)]
        known["t"] = None
        solution = solve_ivp(slope, (t, stop), states, method, t_eval=None, dense_output=True, events=events, rtol=rtol,
                             atol=rtol * drive.size[FIRST_STATE:], first_step=min(1e-10, stop - t) if t else None)
        if solution.status < 0:
            raise ArithmeticError(f"{solution.message} at {solution.t[-1]} s")
        t, states = float(solution.t[-1]), solution.y[:, -1].copy()
        found.extend(whole(at, solution.sol(at)).copy() for at in inside[inside <= t])
        if t >= END:
            break
        guard = next((k for k, times in enumerate(solution.t_events) if len(times)), None)
        y = whole(t, states).copy()
        drive.fire(t, y, guard)
        # What the new mode asks for at once is known only after its own algebraic values.
        for _ in range(10):
            known["t"] = None
            asked = np.flatnonzero(drive.guards(t, whole(t, states)) > 0)
            if not asked.size:
                break
            drive.fire(t, whole(t, states).copy(), int(asked[0]))
    return columns(np.array(found))


def main() -> None:
    folder, rounds = Path(sys.argv[1]), int(sys.argv[2])
    library = compile_library(folder)
    sets = [("scikit-sundae IDA, dense", 0.0, rtol, lambda d, y, r=rtol, a=algebraic, f=first: by_sundae(d, y, r, a, f))
            for rtol in (1e-4, 1e-5, 1e-6) for algebraic in (1.0, 1e3) for first in (1e-11, 1e-10)]
    sets += [(f"SciPy {method}, reduced", 1e-3, rtol, lambda d, y, r=rtol, m=method: by_scipy(d, y, r, m))
             for method in ("BDF", "Radau") for rtol in (1e-3, 1e-4, 1e-5)]
    lines = [{"name": name, "core_loss": loss, "rtol": rtol, "times": []} for name, loss, rtol, _ in sets]
    for _ in range(rounds):
        for k, (line, (_, loss, _, run)) in enumerate(zip(lines, sets)):
            if "failure" in line:
                continue
            drive = Drive(library, loss)
            y = drive.rest()
            clock = time.perf_counter()
            try:
                rows = run(drive, y)
            except Exception as error:  # noqa: BLE001 (whatever a peer raises is its failure)
                line["failure"] = str(error)
                continue
            line["times"].append(time.perf_counter() - clock)
            line["arcs"], line["file"] = drive.state.arcs, f"{k}.f64"
            rows.astype("<f8").tofile(folder / line["file"])
    for line in lines:
        median = statistics.median(line["times"]) if line["times"] else float("nan")
        failure = line.get("failure", "").replace("\t", " ").replace("\n", " ")
        fields = [line["name"], line["core_loss"], line["rtol"], median, line.get("arcs", 0), line.get("file", ""), failure]
        print("\t".join(map(str, fields)))


main()
