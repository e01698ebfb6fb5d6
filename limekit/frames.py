"""A result laid out as a table: one row a figure, with the ends of its range and its unit."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import numpy as np

from limekit.units import unit_told

MIDDLES = ("median", "middle")
COLUMNS = ("value", "inner_low", "inner_high", "low", "high", "unit")


def frame(rows, columns=None):
    """Return rows as a ``pandas.DataFrame``, which is imported only when a table is asked for."""
    import pandas as pd

    return pd.DataFrame(rows, columns=columns)


def to_frame(self):
    """Return the figures as a ``pandas.DataFrame``, in the units they have.

    It has one row a figure by its name, as in ``demand.fuel_mass``, and one a place where it has several values.
    Columns are `value`, the ends of its ranges where it has any, and `unit`, None for what carries none: a count,
    money, and the SI floats of ``.plain``. Words are left out.
    """
    table = frame(list(_rows(self, ())) or {name: [] for name in ("figure", "value", "unit")})
    if "place" in table:
        table["place"] = table["place"].astype("Int64")
    known = [name for name in COLUMNS if name in table]
    return table.set_index([name for name in table if name not in COLUMNS])[known]


def _rows(value, name: tuple[str, ...]) -> Iterator[dict]:
    """Yield a row for each figure in a result, or in a part of one; what it does not print is left out."""
    if dataclasses.is_dataclass(value):
        parts = {field.name: getattr(value, field.name) for field in dataclasses.fields(value) if field.repr}
        parts.pop("basis", None)
        middle = next((one for one in MIDDLES if one in parts), None)
        if middle:
            yield from _places({"value": parts.pop(middle), **parts}, name)
            return
        for part, one in parts.items():
            yield from _rows(one, (*name, part))
    elif (isinstance(value, (int, float, np.ndarray)) and not isinstance(value, bool)) or hasattr(value, "units"):
        yield from _places({"value": value}, name)


def _places(ends: dict, name: tuple[str, ...]) -> Iterator[dict]:
    """Yield a row for each place in an array and the ends of its range, or one where there is no array."""
    units = getattr(ends["value"], "units", None)
    figures = {end: one if units is None else one.to(units).magnitude for end, one in ends.items()}
    said = {"figure": ".".join(name)} if name else {}
    told = {"unit": None if units is None else unit_told(units)}
    if name and not np.shape(figures["value"]):
        yield said | figures | told
        return
    for place, one in enumerate(zip(*map(np.ravel, figures.values()), strict=True)):
        yield said | {"place": place} | dict(zip(figures, one, strict=True)) | told
