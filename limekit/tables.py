"""The kit's own tables (``data/*.csv``): text cells by column, each file read once."""

from __future__ import annotations

import csv
import functools
from importlib import resources


def lines(name: str) -> list[str]:
    """Return the lines of ``data/<name>.csv``."""
    return resources.files("limekit").joinpath(f"data/{name}.csv").read_text(encoding="utf-8").splitlines()


@functools.cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of ``data/<name>.csv``, each by the header's names."""
    return tuple(csv.DictReader(lines(name)))


@functools.cache
def by(key: str, name: str) -> dict[str, dict[str, str]]:
    """Return the rows of ``data/<name>.csv`` by what stands in the column `key`."""
    return {row[key]: row for row in rows(name)}
