"""What kiln walls are built of (``data/wall_materials.csv``), and their layers: as a person writes them, or by kind."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from limekit import tables
from limekit.edge import PUBLISHED, Ground, Words, take
from limekit.errors import InputError, not_among
from limekit.facts import fact, known_by, refuse_unsourced
from limekit.units import MM, ZERO_CELSIUS, Unit

EXAMPLE = 'layers=[("firebrick", "230 mm"), ("wood_ash", "100 mm"), ("rubble", "450 mm")]'


@dataclass(frozen=True)
class Material:
    """A wall material in SI floats: dry, as it lies in the wall, and how that is known.

    Its `form` is how it is counted: "firebrick", "common_brick", "stone", "fill", "mortar" or "insulation". Past its
    `limit` (K) it burns, sinters, softens or falls apart.
    """

    name: str
    label: str
    form: str
    conductivity: float
    conductivity_low: float
    conductivity_high: float
    density: float
    heat_capacity: float
    limit: float
    tag: str
    source: str
    place: str
    limit_source: str
    note: str

    @property
    def basis(self) -> str:
        """One line a reader can judge it by."""
        return f"{known_by(self.source, self.tag)}; limit {self.limit_source}"


def load(rows: Iterable[dict[str, str]]) -> dict[str, Material]:
    """Read materials from the rows of a table, by column named as the fields of `Material`; its limit in °C.

    Raises `InputError` if a row has no source, no known tag, was read in no place or has no source of its limit, or its
    conductivity lies outside its range.
    """
    found = {}
    words = ("label", "form", "tag", "source", "place", "limit_source", "note")
    figures = ("conductivity", "conductivity_low", "conductivity_high", "density", "heat_capacity")
    for number, row in enumerate(rows, start=2):
        where = f"wall materials row {number}, {row['material']}"
        refuse_unsourced(row, where)
        if not row["limit_source"].strip():
            raise InputError(where, "no source for its limit", "a source for every limit")
        made = Material(
            name=row["material"],
            limit=float(row["limit"]) + ZERO_CELSIUS,
            **{figure: float(row[figure]) for figure in figures},
            **{word: row[word] for word in words},
        )
        if not made.conductivity_low <= made.conductivity <= made.conductivity_high:
            raise InputError(where, f"a conductivity of {made.conductivity} outside its range", "a range around it")
        found[made.name] = made
    return found


@functools.cache
def wall_materials() -> dict[str, Material]:
    """Return every wall material the kit ships, by name."""
    return load(tables.rows("wall_materials"))


def material(name: str) -> Material:
    """Return one wall material; a name that is not there is answered with the near one."""
    known = wall_materials()
    if name not in known:
        raise not_among(known, "material of a wall", name, '"{near}"')
    return known[name]


@dataclass(frozen=True)
class Layer:
    """A material and its thickness in metre."""

    material: Material
    thickness: float

    def __str__(self) -> str:
        return f"{MM * self.thickness:.0f} mm {self.material.label}"


def read_layers(layers: Iterable) -> tuple[Layer, ...]:
    """Read a wall's layers, from the fire outward: pairs of material and thickness.

    A thickness that is a bare float is in metres; a `Layer` passes through. Raises `InputError` if there is no layer, a
    material is unknown, or a thickness is none.
    """
    if isinstance(layers, str) or not isinstance(layers, Iterable):
        raise InputError("layers", repr(layers), "pairs of a material and its thickness", EXAMPLE)
    read = tuple(one if isinstance(one, Layer) else _read_layer(one) for one in layers)
    if not read:
        raise InputError("layers", "none", "at least one pair of a material and its thickness", EXAMPLE)
    return read


def _read_layer(pair) -> Layer:
    if isinstance(pair, str) or not isinstance(pair, Iterable) or len(pair := tuple(pair)) != 2:
        raise InputError("layers", repr(pair), "pairs of a material and its thickness", EXAMPLE)
    name, thickness = pair
    if not isinstance(thickness, float):
        thickness = take(thickness, Unit("m"), "thickness")
    if not (math.isfinite(thickness) and thickness > 0.0):
        raise InputError("layers", f"{name} of {thickness} m", "a thickness above 0", EXAMPLE)
    return Layer(material(name), thickness)


@functools.cache
def wall_kinds() -> dict[str, tuple[tuple[str, float], ...]]:
    """Return walls such as most kilns had, by name: pairs of a material and its metres, from the fire outward."""
    found: dict[str, tuple] = {}
    for number, row in enumerate(tables.rows("wall_kinds"), start=2):
        refuse_unsourced(row, f"wall kinds row {number}, {row['kind']}")
        found[row["kind"]] = (*found.get(row["kind"], ()), (row["material"], float(row["thickness"]) / MM))
    return found


WallKind = Annotated[str, Words(wall_kinds)]


def damp(layers: Sequence[Layer], moisture: float) -> tuple[Layer, ...]:
    """Return a wall's layers with water in them, a share of their dry mass, that a burn drives off.

    Its drying heat is spread evenly over the rise that dried masonry has come to on the mean, as more heat
    capacity: c + w h/ΔT. So the heat is right for what dries, and comes too late near the fire; as the wall
    cools it is given back, which is not so, and a first burn's cooling comes out long.
    """
    more = moisture * fact("drying_heat") / fact("wall_drying_rise")
    wet = (replace(one.material, heat_capacity=one.material.heat_capacity + more) for one in layers)
    return tuple(replace(layer, material=one) for layer, one in zip(layers, wet, strict=True)) if moisture else layers


def grounds(layers: Iterable[Layer]) -> tuple[Ground, ...]:
    """Return what a wall's figures rest on, one ground a material."""
    used = {layer.material.name: layer.material for layer in layers}
    return tuple(Ground(one.label, f"{one.conductivity} W/m/K", PUBLISHED[one.tag], one.basis) for one in used.values())


def brick_leaf(brick: str, leaves: int) -> float:
    """Return the thickness, in metre, of a wall of some leaves of brick with the joints between them."""
    return leaves * fact(f"{brick}_width") + (leaves - 1) * fact(f"{brick}_joint")


def brick_count(brick: str, volume: float, thickness: float) -> int:
    """Return how many bricks to buy for some brickwork (m³) of a thickness (metre), joints taken off and waste added.

    Its outermost faces have no joint.
    """
    length, width, height, joint = (fact(f"{brick}_{side}") for side in ("length", "width", "height", "joint"))
    leaves = (thickness + joint) / (width + joint)
    seen = volume / thickness / ((length + joint) * (height + joint))
    return math.ceil(seen * leaves * (1.0 + fact("brick_waste")))
