"""Every story runs where the drives' files are."""

import pathlib

import pytest

NOTEBOOKS = pathlib.Path(__file__).parents[2] / "notebooks"


@pytest.fixture(autouse=True)
def _where_the_files_are(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(NOTEBOOKS)
