"""Which lime a place wants, and where pure putty will not do."""

from __future__ import annotations

from dataclasses import dataclass

from limekit import tables
from limekit.edge import edge
from limekit.errors import not_among
from limekit.facts import fact, known_by
from limekit.units import DAY, Second


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
    return tuple(tables.by("place", "places"))


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
    rows = tables.by("place", "places")
    if place not in rows:
        raise not_among(rows, "place", place)
    row, least = rows[place], fact("frost_free_least")
    source = known_by(row["source"], row["tag"])
    putty = row["putty_will_do"] == "yes"
    if putty and place != "indoors" and time_to_frost is not None and time_to_frost < least:
        words = f"Frost comes within {least / DAY:.0f} days, before pure lime has set: wait for spring, or use NHL."
        return Binder(place, False, "natural hydraulic lime NHL 2 or 3.5, or wait", words, source)
    return Binder(place, putty, row["binder"], row["words"], source)
