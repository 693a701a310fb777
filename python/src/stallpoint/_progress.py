"""How far a long call has come: a bar, or the caller's own function."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any


class _Function:
    """The caller's own function of the fraction done; returning False stops the run."""

    def __init__(self, function: Callable[[float], Any]) -> None:
        self._function = function

    def __call__(self, fraction: float) -> bool:
        return self._function(fraction) is not False

    def close(self, finished: bool) -> None:
        if finished:
            self._function(1.0)


class _Text:
    """Percents on standard error."""

    def __call__(self, fraction: float) -> bool:
        print(f"\r{100 * fraction:5.1f} %", end="", file=sys.stderr, flush=True)
        return True

    def close(self, finished: bool) -> None:
        print("\r100.0 %" if finished else "", file=sys.stderr, flush=True)


class _Bar:
    """A tqdm bar."""

    def __init__(self, bar: Any) -> None:
        self._bar = bar

    def __call__(self, fraction: float) -> bool:
        self._bar.update(100 * fraction - self._bar.n)
        return True

    def close(self, finished: bool) -> None:
        if finished:
            self(1.0)
        self._bar.close()


def reporter(progress: Any) -> _Function | _Text | _Bar | None:
    """What ``progress=`` asks for: nothing, a bar (text where tqdm is missing), or a function of the fraction done."""
    if progress is None or progress is False:
        return None
    if progress is True:
        try:
            from tqdm.auto import tqdm
        except ImportError:
            return _Text()
        return _Bar(tqdm(total=100.0, unit="%", bar_format="{percentage:5.1f} %|{bar}| {elapsed}<{remaining}"))
    if callable(progress):
        return _Function(progress)
    from .errors import ArgumentError

    allowed = "True, False, or a function of the fraction done"
    raise ArgumentError(
        f"`progress` is {progress!r}, but must be {allowed}", argument="progress", value=repr(progress), allowed=allowed
    )
