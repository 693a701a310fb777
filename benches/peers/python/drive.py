"""P1c for Python peers: the C coding of the equations (``ida/*.c``) through ctypes."""

import ctypes
import subprocess
from pathlib import Path

import numpy as np

N, FIRST_STATE, GUARDS = 26, 18, 10
VB, VN, VK, IM, OM, TW, IL1, LAM = 0, 10, 14, 20, 23, 24, 19, 22
END, POINTS = 1.5, 2000
GRID = END * np.arange(1, POINTS + 1) / POINTS
HERE = Path(__file__).resolve().parent
_Put = ctypes.CFUNCTYPE(None, ctypes.c_void_p, ctypes.c_int, ctypes.c_int, ctypes.c_double)


class State(ctypes.Structure):
    """As ``Drive`` in ``ida/p1c.h``."""

    _fields_ = [("gap", ctypes.c_int * 4), ("phase", ctypes.c_int), ("since", ctypes.c_double),
                ("controls", ctypes.c_int), ("bounces", ctypes.c_int), ("closed_at", ctypes.c_double),
                ("events", ctypes.c_int), ("arcs", ctypes.c_int), ("event_times", ctypes.c_double * 64)]


def compile_library(folder: Path) -> ctypes.CDLL:
    """Compiles the C coding as a shared library."""
    path = folder / "libp1c.so"
    sources = [str(HERE.parent / "ida" / name) for name in ("equations.c", "modes.c", "dense.c")]
    subprocess.run(["cc", "-O3", "-shared", "-fPIC", "-o", str(path), *sources, "-lm"], check=True)
    library = ctypes.CDLL(str(path))
    library.next_time.restype = ctypes.c_double
    return library


def _at(array: np.ndarray) -> ctypes.c_void_p:
    return ctypes.c_void_p(array.ctypes.data)


class Drive:
    """The drive with its modes; ``core_loss`` is a conductance across the coil."""

    def __init__(self, library: ctypes.CDLL, core_loss: float = 0.0) -> None:
        self.c, self.state, self.core_loss = library, State(), core_loss
        library.at_rest(ctypes.byref(self.state))
        self.storage = np.array((ctypes.c_double * N).in_dll(library, "STORAGE"))
        self.size = np.array((ctypes.c_double * N).in_dll(library, "SIZE"))

    def residual(self, t: float, y: np.ndarray, yp: np.ndarray, out: np.ndarray) -> None:
        self.c.residual(ctypes.byref(self.state), ctypes.c_double(t), _at(y), _at(yp), _at(out))
        loss = self.core_loss * (y[VK] - y[VN])
        out[VK] += loss
        out[VN] -= loss

    def jacobian(self, t: float, cj: float, y: np.ndarray, out: np.ndarray) -> None:
        """Fills ``out`` (N by N, row after row)."""
        self.c.dense_jacobian(ctypes.byref(self.state), ctypes.c_double(t), ctypes.c_double(cj), _at(y), _at(out))
        g = self.core_loss
        out[VK, VK] += g
        out[VN, VN] += g
        out[VK, VN] -= g
        out[VN, VK] -= g

    def guards(self, t: float, y: np.ndarray) -> np.ndarray:
        out = np.empty(GUARDS)
        self.c.guards(ctypes.byref(self.state), ctypes.c_double(t), _at(y), _at(out))
        return out

    def next_time(self) -> float:
        return min(self.c.next_time(ctypes.byref(self.state)), END)

    def fire(self, t: float, y: np.ndarray, guard: int | None) -> None:
        """A guard, or everything that is due."""
        if guard is not None:
            self.c.guard_fired(ctypes.byref(self.state), guard, ctypes.c_double(t), _at(y))
        while self.c.next_time(ctypes.byref(self.state)) <= t:
            self.c.time_due(ctypes.byref(self.state), ctypes.c_double(t), _at(y))

    def euler(self, t: float, h: float, y: np.ndarray, rtol: float) -> np.ndarray:
        """One implicit Euler step by full Newton, in place; returns the slopes of the states."""
        before, last = y.copy(), np.inf
        out, matrix = np.empty(N), np.empty((N, N))
        for _ in range(100):
            slopes = (y - before) / h
            slopes[:FIRST_STATE] = 0
            self.residual(t, y, slopes, out)
            self.jacobian(t, 1 / h, y, matrix)
            change = np.linalg.solve(matrix, out)
            y -= change
            size = np.max(np.abs(change) / (np.abs(y) + self.size))
            if size < 1e-3 * rtol or (size < 1e-7 and size >= last):
                slopes = (y - before) / h
                slopes[:FIRST_STATE] = 0
                return slopes
            last = size
        raise ArithmeticError(f"no consistent values at {t} s")

    def settle(self, t: float, y: np.ndarray, rtol: float, first: float) -> tuple[float, np.ndarray]:
        """Consistent values after an event; fires what the new mode asks for at once."""
        while True:
            for h in (first, 10 * first, 100 * first):
                t += h
                slopes = self.euler(t, h, y, rtol)
            asked = np.flatnonzero(self.guards(t, y) > 0)
            if not asked.size:
                return t, slopes
            self.fire(t, y, int(asked[0]))

    def rest(self) -> np.ndarray:
        """The direct-current solution."""
        y = np.zeros(N)
        y[VB], y[TW] = 12.6, 20
        for h in (1e6, 1e9):
            self.euler(0.0, h, y, 1e-10)
        return y


def columns(y: np.ndarray) -> np.ndarray:
    """The four columns of the grid, of values by row."""
    return np.column_stack([y[:, IM], y[:, OM], y[:, VK] - y[:, VN], y[:, VB]])
