"""Yard and room in plan, to scale: kiln or hearths, roof, slaking vessels and tables, with what keeps them apart."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from limekit import tables
from limekit.facts import known_by, refuse_unsourced
from limekit.pictures.looks import GRID, INK, MUTED
from limekit.pictures.svg import PAGE, PRINTED, Drawing

RATIOS = (50, 75, 100, 125, 150, 200, 250, 300, 400, 500)  # of the ground to the paper
YARD_TALLEST, ROOM_TALLEST = 480.0, 340.0  # page units
EDGE, HEAD, FOOT, TEXT = 12.0, 38.0, 44.0, 12
DRAWN = "drawn"  # a size that the plan is drawn with, and no distance to keep
SOLID = {"fill": "none", "stroke": INK, "stroke_width": "1.2"}
DASHED = {"fill": "none", "stroke": INK, "stroke_width": "0.9", "stroke_dasharray": "6 4"}
FILLED = {"fill": GRID, "stroke": INK, "stroke_width": "1"}


@dataclass(frozen=True)
class Distance:
    """How far (m) one thing stands from another, at the least or at the most, and what that rests on."""

    key: str
    what: str
    bound: str
    metres: float
    basis: str
    note: str


def distances() -> dict[str, Distance]:
    """Return the distances to keep of ``data/yard.csv`` by their keys."""
    return {key: row for key, row in _rows().items() if row.bound != DRAWN}


def _size(key: str) -> float:
    return _rows()[key].metres


@functools.cache
def _rows() -> dict[str, Distance]:
    found = {}
    for row in tables.rows("yard"):
        refuse_unsourced(row, f"yard, {row['key']}")
        basis = known_by(row["source"], row["tag"])
        found[row["key"]] = Distance(row["key"], row["what"], row["bound"], float(row["metres"]), basis, row["note"])
    return found


@dataclass(frozen=True)
class Yard:
    """What stands in a yard, m: a vessel and a table a group, hearths for trial fires, and a kiln, its chimney with it.

    Its width and height are 0 where only a trial is burnt.
    """

    groups: int
    vessel_width: float
    hearths: int = 0
    kiln_width: float = 0.0
    kiln_height: float = 0.0

    @property
    def fires(self) -> tuple[float, float]:
        """How wide and how long what burns is; hearths stand in a row along the roof, after the kiln."""
        if self.kiln_width:
            return self.kiln_width, self.kiln_width + self.hearths * _size("group_wide")
        hearth = _size("hearth_wide")
        return hearth, (self.hearths - 1) * _size("group_wide") + hearth

    @property
    def clear(self) -> float:
        """How far spectators stay from the fires: as far as a chimney could fall, and more."""
        return distances()["spectators_from_fire"].metres + self.kiln_height

    @property
    def to_roof(self) -> float:
        """From the fires to the roof."""
        far = distances()
        apart = far["roof_from_kiln" if self.kiln_width else "roof_from_hearth"].metres
        return max(apart, far["slaking_from_fire"].metres, self.clear)

    @property
    def roof(self) -> float:
        """How long the roof is."""
        return max(self.groups, 2) * _size("group_wide")


def _begin(name: str, across: float, high: float, left: float, above: float, tallest: float) -> tuple[Drawing, int]:
    """Return a drawing at the largest usual scale that fits, its origin so far (m) from its edges, and the scale."""
    units = PAGE / PRINTED * 1000.0
    fits = (one for one in RATIOS if units * across / one <= PAGE - 2.0 * EDGE and units * high / one <= tallest)
    ratio = next(fits, RATIOS[-1])
    scale = units / ratio
    spare = (PAGE - 2.0 * EDGE - scale * across) / 2.0
    return Drawing(scale, EDGE + spare + scale * left, HEAD + scale * above, name), ratio


def _page(drawing: Drawing, down: float, ratio: int, title: str, told: str) -> str:
    foot, metres = drawing.y(-down) + 22.0, 2.0 if ratio <= RATIOS[3] else 5.0
    drawing.line([(EDGE, foot), (EDGE + drawing.scale * metres, foot)], stroke_width="2")
    words = f"{metres:.0f} m; 1 to {ratio} where this page is printed full size"
    drawing.text(EDGE, foot + 16.0, words, size=TEXT, fill=MUTED)
    return drawing.page(foot + FOOT - 22.0, f"{title}, 1 to {ratio}", told, "")


def _say(drawing: Drawing, across: float, up: float, words: str, lower: float = 14.0, anchor: str = "middle") -> None:
    for row, line in enumerate(words.splitlines()):
        drawing.text(drawing.x(across), drawing.y(up) + lower + 14.0 * row, line, size=TEXT, anchor=anchor)


def _disc(drawing: Drawing, across: float, up: float, width: float) -> None:
    drawing.add("circle", cx=drawing.x(across), cy=drawing.y(up), r=drawing.scale * width / 2.0, **FILLED)


def yard_drawing(yard: Yard) -> str:
    """Return a yard in plan as an SVG, to print 190 mm wide at the scale it names."""
    far, (wide, long) = distances(), yard.fires
    hearth, group, deep, behind, vessels = map(_size, ("hearth_wide", "group_wide", "roof_deep", "gate", "vessels_in"))
    half, clear, roof = wide / 2.0, yard.clear, yard.roof / 2.0
    near, end = half + yard.to_roof, half + yard.to_roof + deep
    generator = roof + far["generator_from_people"].metres
    up, down = max(long / 2.0 + clear, roof), max(long / 2.0 + clear, generator + 2.5)
    drawing, ratio = _begin("yard", half + clear + end + behind, up + down, half + clear, up, YARD_TALLEST)
    kiln = long / 2.0 - yard.kiln_width / 2.0
    if yard.kiln_width:
        _disc(drawing, 0.0, kiln, wide)
        _say(drawing, 0.0, kiln + half, "kiln", -6)
        wood = -half - far["wood_from_kiln"].metres
        drawing.box(wood, wood + 1.0, kiln + 1.0, kiln + 1.5, **FILLED)
        _say(drawing, wood + 0.5, kiln + 1.5, "the turn's wood", -5)
    for number in range(yard.hearths):
        foot, side = (yard.hearths - 1 - number) * group - long / 2.0, hearth / 2.0
        drawing.box(-side, side, foot, foot + hearth, **FILLED)
        _say(drawing, side + 0.2, foot + side, f"hearth {number + 1}", 5, "start")
    corner = {"x": drawing.x(-half - clear), "y": drawing.y(long / 2.0 + clear), "rx": drawing.scale * clear}
    size = {"width": 2.0 * drawing.scale * (half + clear), "height": drawing.scale * (long + 2.0 * clear)}
    drawing.add("rect", **corner, **size, **DASHED)
    _say(drawing, 0.0, long / 2.0 + clear, f"spectators stay outside\nthis line, {clear:.1f} m", -20)
    water = -half - far["water_from_fire"].metres / 2.0
    drawing.box(water - 0.5, water, -0.25, 0.25, **SOLID)
    _say(drawing, water - 0.25, -0.25, "water, sand")
    drawing.line([(drawing.x(half), drawing.floor), (drawing.x(near), drawing.floor)], **DASHED)
    _say(drawing, (half + clear + near) / 2.0, 0.0, f"{yard.to_roof:.1f} m", -6)
    drawing.box(near, end, -roof, roof, **SOLID)
    for number in range(yard.groups):
        _disc(drawing, near + vessels, roof - yard.roof / yard.groups * (number + 0.5), yard.vessel_width)
    _say(drawing, (near + end) / 2.0, 0.0, "roof\nas below", 0)
    drawing.box(near, near + 0.8, -generator - 0.5, -generator, **FILLED)
    downwind = f"generator, downwind\n{far['generator_from_people'].metres:.1f} m from the roof"
    _say(drawing, near + 1.0, -generator, downwind, 10, "start")
    gate = drawing.x(end + behind)
    drawing.line([(gate, drawing.y(roof)), (gate, drawing.y(-roof))], stroke_width="2.4")
    _say(drawing, end + behind - 0.2, 0.0, "gate: the\nambulance's\nway, kept\nfree", -14.0, "end")
    hearths = f"{yard.hearths} trial hearths in a row" if yard.hearths else ""
    fires = " and ".join(filter(None, ("a kiln" if yard.kiln_width else "", hearths)))
    told = (
        f"To the left {fires}, with a dashed line {clear:.1f} m round that spectators stay outside; "
        f"{yard.to_roof:.1f} m to the right a roof, then the gate; the generator below."
    )
    return _page(drawing, down, ratio, "The yard in plan", told)


def room_drawing(yard: Yard) -> str:
    """Return what stands under the roof in plan as an SVG, to print 190 mm wide at the scale it names."""
    half, far, (deep, vessels) = yard.roof / 2.0, distances(), map(_size, ("roof_deep", "vessels_in"))
    tables_in, wide, across = map(_size, ("tables_in", "table_wide", "table_deep"))
    drawing, ratio = _begin("room", yard.roof, deep, half, 0.0, ROOM_TALLEST)
    drawing.box(-half, half, -deep, 0.0, **SOLID)
    _say(drawing, 0.0, 0.0, "open to the yard and the fire", -6)
    vessel, bottle = yard.vessel_width / 2.0, far["eyewash_from_vessel"].metres
    for number in range(yard.groups):
        middle = -half + yard.roof / yard.groups * (number + 0.5)
        _disc(drawing, middle, -vessels, yard.vessel_width)
        _say(drawing, middle, -vessels - vessel, f"vessel {number + 1}")
        eyes = middle + vessel + bottle - 0.3
        drawing.box(eyes, eyes + 0.3, -vessels - 0.15, -vessels + 0.15, **SOLID)
        _say(drawing, eyes + 0.15, -vessels + 0.15, "eyes", -4.0)
        table = wide / 2.0
        drawing.box(middle - table, middle + table, -tables_in - across, -tables_in, **SOLID)
        _say(drawing, middle, -tables_in - across / 2.0, f"table {number + 1}", 4)
    onlookers = drawing.y(-vessels - far["spectators_from_slaking"].metres)
    drawing.line([(drawing.x(-half), onlookers), (drawing.x(half), onlookers)], **DASHED)
    drawing.text(drawing.left, onlookers - 6.0, "onlookers below this line while lime slakes", TEXT, "middle")
    drawing.box(-half + 0.2, -half + 0.7, -deep + 0.2, -deep + 0.6, **FILLED)
    here = "first aid, telephone, safety card here;\nseats and screen along this side"
    _say(drawing, -half + 0.8, -deep + 0.4, here, -4.0, "start")
    told = (
        f"{yard.groups} slaking vessels along the side that looks to the fire, water for eyes beside each "
        f"(small squares), a line for onlookers, {yard.groups} tables, and first aid with the telephone at the back."
    )
    return _page(drawing, deep, ratio, "Under the roof, in plan", told)
