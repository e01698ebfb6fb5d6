"""What lies over a charge: how much it leaves open for the gas, and how readily heat goes through it."""

from __future__ import annotations

from typing import Literal

from limekit.facts import fact
from limekit.kiln.wall.layers import material

Cover = Literal["open", "slabs", "clay with holes", "closed in time"]

USUAL = "earth", "slabs_and_earth"
MADE_OF = {"slabs": ("rubble", "slabs"), "clay with holes": ("earth", "clay")}  # and the variant of its thickness
AT_FIRST = {"closed in time": "open"}


def open_area(cover: Cover, kiln_area: float) -> float:
    """Return the area that a cover leaves open for the gas at first, m², of a kiln's section in m²."""
    return float(kiln_area * fact("cover_eyes", AT_FIRST.get(cover, cover).replace(" ", "_")))


def cover_conductance(area: float, cover: Cover | None = None) -> float:
    """Return how readily heat leaves the gas through the cover at first, W/K, for its area in m².

    Without a word for it the cover is of slabs and earth; an open top glows and warms the air above it.
    """
    if AT_FIRST.get(cover, cover) == "open":
        return float(area * fact("open_top_coefficient"))
    made_of, thickness = MADE_OF.get(cover, USUAL)
    held = fact("cover_thickness", thickness) / material(made_of).conductivity + 1.0 / fact("outside_coefficient")
    return float(area / held)
