"""What ``progress=`` may be: True, a function of the fraction done, or None."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any


class _Reporter:
    """Calls a function with the fraction done; closing it tells the end."""

    def __init__(self, tell: Callable[[float], Any], end: Callable[[bool], None]) -> None:
        self._tell, self._end = tell, end

    def __call__(self, fraction: float) -> Any:
        return self._tell(fraction)

    def close(self, finished: bool) -> None:
        self._end(finished)


def reporter(progress: Any) -> _Reporter | None:
    """Makes a reporter of what the user gave."""
    if progress is None or progress is False:
        return None
    if callable(progress):
        return _Reporter(progress, lambda finished: progress(1.0) if finished else None)
    return _bar()


def _bar() -> _Reporter:
    try:
        from tqdm.auto import tqdm
    except ImportError:
        return _line()
    bar = tqdm(total=100, unit="%", leave=False)

    def tell(fraction: float) -> None:
        bar.update(max(0.0, 100 * fraction - bar.n))

    return _Reporter(tell, lambda _finished: bar.close())


def _line() -> _Reporter:
    def tell(fraction: float) -> None:
        print(f"\r{100 * fraction:3.0f} %", end="", file=sys.stderr)

    return _Reporter(tell, lambda _finished: print("", file=sys.stderr))
