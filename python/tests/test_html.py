"""Notebook tables are sound HTML."""

from html.parser import HTMLParser

import stallpoint as sp


class Balanced(HTMLParser):
    """Counts cells and refuses tags that do not close."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.cells: list[str] = []
        self.feed(html)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.open.append(tag)
        if tag == "td":
            self.cells.append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "td" in self.open:
            self.cells[-1] += data


def test_exact_names_are_escaped() -> None:
    c = sp.Circuit()
    c.add("<b>", sp.VoltageSource(1), plus="p&q", minus="ground")
    c.add("r", sp.Resistor(1), a="p&q", b="ground")
    assert "p&q" in Balanced(c.operating_point()._repr_html_()).cells
    assert "<b>" in Balanced(c.transient(0.1).energy._repr_html_()).cells


def test_exact_tables_close_what_they_open() -> None:
    drive = sp.Drive.demo("boat_lift")
    start = drive.start("forward", hold="0.2 s")
    for thing in (drive, start, start.sample([0.1]), start.events, start.energy, start.surge, drive.operating_point()):
        Balanced(thing._repr_html_())
