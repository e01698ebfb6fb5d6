"""What a caller gives and gets, for a type checker: what is said here must be so, and what is ignored must be wrong."""

from typing import Any, TypeAlias, assert_type

import pandas as pd
import pint

import limekit
from limekit import balance, limestone

Quantity: TypeAlias = pint.Quantity[Any]

# Quantities at the edge, floats in plain.
assert_type(limekit.burning_time("60 mm", "1000 degC"), Quantity)
assert_type(limekit.burning_time.plain(0.06, 1273.15), float)
assert_type(limekit.mass_balance("1 tonne", 0.95, conversion=0.9).quicklime, Quantity)
assert_type(limekit.mass_balance.plain(1000.0, 0.95, conversion=0.9), balance.MassBalance)
assert_type(limekit.mass_balance.plain(1000.0, 0.95, conversion=0.9).quicklime, float)

# A thing, the word for it, or its fields; what a thing holds need not be said again.
stone = limekit.Stone("500 kg", calcium_carbonate="92 %")
assert_type(stone.density, Quantity)
assert_type(stone.with_(clay=0.02), limekit.Stone)
assert_type(limekit.Stone.plain(density=2600.0), limestone.Stone)
limekit.burning_time("60 mm", "1000 degC", stone=stone)
limekit.burning_time("60 mm", "1000 degC", lime_conductivity=0.5)
limekit.burning_time.plain(0.06, 1273.15, lime_conductivity=0.5)
assert_type(limekit.mass_balance(stone, conversion=1).putty_volume, Quantity)

# Results of results.
design = limekit.design_kiln(stone="500 kg", largest_stone="80 mm")
assert_type(design.kiln_diameter.middle, Quantity)
assert_type(design.size, limekit.Kiln)
assert_type(design.to_frame(), pd.DataFrame)
assert_type(limekit.burning_time_range("50 mm", "1000 degC").to_frame(), pd.DataFrame)
assert_type(limekit.Record.load("no_such_kiln.toml").stone, limekit.Stone)
assert_type(limekit.FireHistory.steady("1000 degC"), limekit.FireHistory)


def wrong() -> None:
    """Each line is refused by the checker, as the kit refuses it."""
    limekit.burning_time(60, "1000 degC")  # type: ignore[arg-type]
    limekit.burning_time("60 mm", "1000 degC", lime_conductivty=0.5)  # type: ignore[call-arg]
    limekit.mass_balance("1 tonne", conversion=0.9)  # type: ignore[call-overload]
    limekit.forecast()  # type: ignore[attr-defined]
    stone.density = 2600.0  # type: ignore[misc, assignment]
