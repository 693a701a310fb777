"""How objects look in a terminal and in a notebook."""

from __future__ import annotations

import html
from dataclasses import fields
from typing import Any


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.5g}"
    return html.escape(str(value))


def _table(heads: list[str], rows: list[list[Any]], caption: str = "") -> str:
    head = "".join(f"<th>{html.escape(name)}</th>" for name in heads)
    body = "".join("<tr>" + "".join(f"<td>{_cell(value)}</td>" for value in row) + "</tr>" for row in rows)
    title = f"<caption>{html.escape(caption)}</caption>" if caption else ""
    return f"<table>{title}<tr>{head}</tr>{body}</table>"


def records_html(rows: tuple[Any, ...]) -> str:
    """Records of one kind as a table."""
    if not rows:
        return "<p>(none)</p>"
    names = [f.name for f in fields(rows[0])]
    return _table(names, [[getattr(row, name) for name in names] for row in rows])


def fields_html(record: Any) -> str:
    """The fields of one record as a table."""
    return _table(["", ""], [[f.name.replace("_", " "), getattr(record, f.name)] for f in fields(record)])


def _span(trace: Any) -> str:
    time = trace.time
    return f"{time[0]:g} s to {time[-1]:g} s" if len(time) else "empty"


def trace_text(trace: Any) -> str:
    """One line: how many rows, which span, how many parts."""
    name = type(trace).__name__
    return f"<{name} of {len(trace)} rows, {_span(trace)}, {len(trace.parts)} parts>"


def trace_html(trace: Any) -> str:
    """The line, and for a run its events."""
    events = getattr(trace, "events", None)
    table = "" if events is None else events._repr_html_()
    return f"<p>{html.escape(trace_text(trace))}</p>{table}"


def operating_point_text(point: Any) -> str:
    """One line: how many nodes, whether a shaft is held."""
    held = ", a shaft is held" if point.stuck else ""
    return f"<OperatingPoint of {len(point.nodes)} nodes{held}>"


def operating_point_html(point: Any) -> str:
    """Voltages of all nodes."""
    rows = [[node, point.voltage(node)] for node in point.nodes]
    return _table(["node", "V"], rows, operating_point_text(point))


def drive_html(drive: Any) -> str:
    """The drive's file."""
    return f"<details><summary>Drive {html.escape(drive.name)}</summary><pre>{html.escape(drive.to_toml())}</pre></details>"


def study_html(study: Any) -> str:
    """The requirements."""
    return f"<p>{html.escape(repr(study))}</p>{study.checks._repr_html_()}"
