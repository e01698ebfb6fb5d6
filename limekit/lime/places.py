"""Which lime a place wants, and where pure putty will not do."""

from __future__ import annotations

import csv
import difflib
import functools
from dataclasses import dataclass
from importlib import resources

from limekit.edge import edge
from limekit.errors import InputError
from limekit.facts import fact, known_by
from limekit.units import Second


@functools.cache
def _rows() -> dict[str, dict[str, str]]:
    text = resources.files("limekit").joinpath("data/places.csv").read_text(encoding="utf-8")
    return {row["place"]: row for row in csv.DictReader(text.splitlines())}


@dataclass(frozen=True)
class Binder:
    """Which lime suits a place."""

    place: str
    putty_will_do: bool
    binder: str
    words: str
    source: str


def place_names() -> tuple[str, ...]:
    """Return the places `binder_for` knows, from ``data/places.csv``."""
    return tuple(_rows())


@edge
def binder_for(place: str, time_to_frost: Second | None = None) -> Binder:
    """Say whether pure lime putty suits a place, and what does where it does not.

    Parameters
    ----------
    place : str
        One of `place_names`.
    time_to_frost : Second, optional
        From the work to the first frost looked for; too short, and putty will not do outside.

    Returns
    -------
    Binder
        By common practice. Hydraulic lime sets with water: it is kept dry, never as putty.

    Raises
    ------
    InputError
        If there is no such place.
    """
    rows = _rows()
    if place not in rows:
        near = difflib.get_close_matches(str(place), rows, n=1) or list(rows)
        raise InputError("place", repr(place), f"one of {', '.join(rows)}", f'place="{near[0]}"')
    row, least = rows[place], fact("frost_free_least")
    source = known_by(row["source"], row["tag"])
    putty = row["putty_will_do"] == "yes"
    if putty and place != "indoors" and time_to_frost is not None and time_to_frost < least:
        words = f"Frost comes within {least / 86400:.0f} days, before pure lime has set: wait for spring, or use NHL."
        return Binder(place, False, "natural hydraulic lime NHL 2 or 3.5, or wait", words, source)
    return Binder(place, putty, row["binder"], row["words"], source)
