"""A kiln in plan, cut through its mouths or draw eyes, to the scale of its section and in line below it."""

from __future__ import annotations

import math

import numpy as np

from limekit.edge import plain
from limekit.facts import fact
from limekit.kiln.kiln import Kiln
from limekit.pictures import kiln_parts as parts
from limekit.pictures.kiln_parts import MARGIN, metres, millimetres
from limekit.pictures.looks import AIR, FILL, GLOW, INK, JAMB, LINING, LOG, MUTED, OUTER
from limekit.pictures.rubble import drawn_sizes, stones
from limekit.pictures.section import CAUTION
from limekit.pictures.svg import Drawing, number

NEAR_AXIS, AXIS_BEYOND, TIE_OUT = 22.0, 16.0, 3.0  # page units
AXIS = {"stroke": MUTED, "stroke_width": "0.7", "stroke_dasharray": "14 3 3 3"}
ABOVE_THE_CUT = {"fill": "none", "stroke": INK, "stroke_width": "1.3", "stroke_dasharray": "6 4"}
SHOULDERS, DEPTH, HEAD = 0.46, 0.26, 0.2
LOGS = 3


def cut_height(size: Kiln) -> float:
    """Return how far above the floor the plan is cut: half way up the openings, metre."""
    return parts.openings(size)[2] / 2.0


def hearth_radius(size: Kiln) -> float:
    """Return the radius of the fire vault where the plan is cut, metre; 0 for a shaft, which has none."""
    return math.sqrt(size.vault_height**2 - cut_height(size) ** 2) if size.vault_height else 0.0


def charge_outlines(size: Kiln) -> tuple[list[np.ndarray], float]:
    """Return the stones as the plan cuts them, and how many times larger than they are.

    Their corners (n, 2) are metres from the kiln's axis, inside the wall and outside hearth and mouths.
    """
    inside, hearth = size.kiln_diameter / 2, hearth_radius(size)
    largest, smallest = drawn_sizes(size.kiln_diameter, size.kiln_height, size.largest_stone, size.smallest_stone)
    drawn = largest if size.kind == "flare" else (largest + smallest) / 2
    found = []
    for outline in stones(2 * inside, 2 * inside, drawn, drawn):
        corners = outline - [0.0, inside]
        out = np.hypot(*corners.T)
        middle = corners.mean(axis=0)
        if hearth < math.hypot(*middle) < inside and not _in_mouth(size, corners):
            found.append(corners * (np.clip(out, hearth, inside) / out)[:, None])
    return found, largest / size.largest_stone


def _in_mouth(size: Kiln, corners: np.ndarray) -> bool:
    if not size.mouths:
        return False
    for turn in _turns(size):
        along, aside = (corners @ [[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]]).T
        if ((along < 0) & (np.abs(aside) < size.mouth_width / 2)).any():
            return True
    return False


def _turns(size: Kiln) -> list[float]:
    """Return how far round from the left each opening lies, in radian."""
    count = parts.openings(size)[0]
    return [2.0 * math.pi * step / count for step in range(count)]


def _ring(drawing: Drawing, radius: float, **look) -> None:
    drawing.add("circle", cx=drawing.left, cy=drawing.floor, r=drawing.scale * radius, **look)


def _joints(drawing: Drawing, inner: float, outer: float, brick: float) -> None:
    """Draw the upright joints of a ring of bricks, as long each as given along the ring's middle."""
    count = round(math.pi * (inner + outer) / brick)
    if (inner * 2.0 * math.pi / count) * drawing.scale < parts.LEAST_COURSE:
        return
    angles = (2.0 * math.pi * step / count for step in range(count))
    lines = "".join(
        f"M{drawing.at(inner * math.cos(angle), inner * math.sin(angle))}"
        f"L{drawing.at(outer * math.cos(angle), outer * math.sin(angle))}"
        for angle in angles
    )
    drawing.add("path", d=lines, stroke=MUTED, stroke_width="0.45", fill="none")


def _wall(drawing: Drawing, size: Kiln) -> None:
    inner = size.kiln_diameter / 2
    lining = inner + size.lining_thickness
    fill, outer = lining + size.fill_thickness, size.outer_diameter / 2
    edge = {"stroke": INK, "stroke_width": "0.8"}
    _ring(drawing, outer, fill=OUTER, id="outer", **edge)
    _joints(drawing, fill, outer, fact("common_brick_width") + fact("common_brick_joint"))
    _ring(drawing, fill, fill=FILL, id="fill", **edge)
    _ring(drawing, fill, fill="url(#sand)")
    _ring(drawing, lining, fill=LINING, id="lining", **edge)
    side = "length" if size.lining_thickness < fact("firebrick_length") else "width"
    _joints(drawing, inner, lining, fact(f"firebrick_{side}") + fact("firebrick_joint"))
    _ring(drawing, inner, fill=GLOW, id="inside", **edge)


def _opening(drawing: Drawing, size: Kiln, turn: float, number_of: int) -> None:
    """Draw one opening through the wall, turned about the axis from the left, and the air that goes in."""
    half = parts.openings(size)[1] / 2
    inner, outer = size.kiln_diameter / 2, size.outer_diameter / 2
    near, far = (math.sqrt(radius**2 - half**2) for radius in (inner, outer))
    ends = (number(drawing.scale * radius) for radius in (outer, inner))
    outer_arc, inner_arc = (f"A{radius} {radius} 0 0" for radius in ends)
    place = {"transform": f"rotate({number(math.degrees(turn))} {number(drawing.left)} {number(drawing.floor)})"}
    drawing.add(
        "path",
        d=f"M{drawing.at(-near, half)}L{drawing.at(-far, half)}{outer_arc} 0 {drawing.at(-far, -half)}"
        f"L{drawing.at(-near, -half)}{inner_arc} 1 {drawing.at(-near, half)}Z",
        fill=JAMB,
        stroke=INK,
        stroke_width="0.8",
        id=f"opening-{number_of}",
        **place,
    )
    start = drawing.x(-outer)
    arrow = {"stroke": AIR, "stroke_width": 2, "marker_end": "url(#air)"}
    drawing.line([(start - 10, drawing.floor), (start + 16, drawing.floor)], **arrow, **place)


def _hearth(drawing: Drawing, size: Kiln) -> None:
    """Draw the edge of the vault, logs lying in the way of the mouth, and the draw eyes in the cover above."""
    radius = hearth_radius(size)
    _ring(drawing, radius, fill=GLOW, stroke=INK, stroke_width="0.8", id="hearth")
    log = 0.11 * size.vault_height
    for step in range(LOGS):
        aside = 2.3 * log * (step - LOGS // 2)
        reach = 0.85 * math.sqrt(radius**2 - (abs(aside) + log) ** 2)
        drawing.box(-reach, reach, aside - log, aside + log, fill=LOG, stroke=INK, stroke_width="0.7", rx="2")
    out, eye = parts.eye_in_cover(size)
    for step in range(size.draw_eyes):
        turn = 2.0 * math.pi * step / size.draw_eyes
        across, up = -out * math.cos(turn), out * math.sin(turn)
        drawing.box(across - eye, across + eye, up - eye, up + eye, **ABOVE_THE_CUT)


def _axes(drawing: Drawing, size: Kiln) -> None:
    reach = drawing.scale * size.outer_diameter / 2 + AXIS_BEYOND
    left, right, level = drawing.left - reach, drawing.left + reach, drawing.floor
    drawing.line([(left, level), (right, level)], **AXIS)
    drawing.line([(drawing.left, level - reach), (drawing.left, level + reach)], **AXIS)
    for place, anchor in ((left - 3, "end"), (right + 3, "start")):
        drawing.text(place, level + 4.5, "A", anchor=anchor, font_weight="bold")


def _person(drawing: Drawing, size: Kiln) -> None:
    """Draw a person from above where the section has one."""
    beside = size.outer_diameter / 2 + parts.ABREAST / drawing.scale + parts.REACH[0] * parts.PERSON
    place = {"cx": drawing.x(beside), "cy": drawing.floor}
    wide, deep = drawing.scale * SHOULDERS / 2, drawing.scale * DEPTH / 2
    drawing.add("ellipse", **place, rx=deep, ry=wide, fill=MUTED, id="person")
    drawing.add("circle", **place, r=drawing.scale * HEAD / 2, fill=FILL, stroke=MUTED)
    drawing.text(
        drawing.x(beside), drawing.floor + wide + 18, "a person from above", size=12, anchor="middle", fill=MUTED
    )


def _labels(drawing: Drawing, size: Kiln) -> None:
    """Label what the plan cuts: the rings from the top down, then what lies near the axis."""
    inner, outer, hearth = size.kiln_diameter / 2, size.outer_diameter / 2, hearth_radius(size)
    rings = [(parts.tie_words(size), outer)]
    far = outer
    for words, thickness in (
        ("wall: brick or stone", size.outer_thickness),
        ("fill: dry sand or ash", size.fill_thickness),
        ("lining: firebrick", size.lining_thickness),
    ):
        rings.append((f"{words}, {millimetres(thickness)}", far - thickness / 2))
        far -= thickness
    charge = "stone, the largest set as the vault" if size.mouths else "lime on its way to the eyes"
    rings.append((charge, (inner + hearth) / 2))
    step = (_top(size, drawing.scale) - 2.0 * NEAR_AXIS) / (len(rings) - 1)
    levels = [2.0 * NEAR_AXIS + step * place for place in range(len(rings))]
    spots = [(*ring, level, 0.95 * ring[1]) for ring, level in zip(rings, reversed(levels), strict=True)]
    _, wide, high = parts.openings(size)
    opening = f"{millimetres(wide, 10).removesuffix(' mm')} by {millimetres(high, 10)}"
    jamb = outer - size.outer_thickness / 2, -NEAR_AXIS, 0.45 * wide
    if size.mouths:
        out, eye = parts.eye_in_cover(size)
        grate = f"hearth, or a grate of {size.grate_bars} bars"
        mouth = "firing mouth" if size.mouths == 1 else f"{size.mouths} firing mouths"
        spots.append(("draw eye in the cover above", out, NEAR_AXIS, 0.9 * eye))
        spots.append((f"{mouth}, {opening}", *jamb))
        spots.append((grate, 0.8 * hearth, -2.0 * NEAR_AXIS, 0.7 * hearth))
    else:
        spots.append((f"{size.draw_eyes} draw eyes, {opening}", *jamb))
    for words, radius, level, most in spots:
        up = math.copysign(min(abs(level) / drawing.scale, most), level)
        parts.label(drawing, words, drawing.floor - level, (drawing.x(-math.sqrt(radius**2 - up**2)), drawing.y(up)))


def _top(size: Kiln, scale: float) -> float:
    """Return how far above the axis the highest label stands, in page units."""
    return max(0.9 * scale * size.outer_diameter / 2, 2.0 * NEAR_AXIS + 4 * parts.ROW)


def ground_plan_drawing(size: Kiln) -> str:
    """Return a kiln's plan as an SVG, cut half way up its mouths or draw eyes, to its section's scale.

    It is a size from `size_kiln`, in quantities or in floats. The SVG prints 190 mm wide at the scale it names, its
    axis in line with the section's, with a title and a description for those who cannot see it. What lies above the cut
    is dashed: iron ties and a flare kiln's draw eyes.
    """
    size = plain(size)
    section = parts.begin(size)
    radius = section.scale * size.outer_diameter / 2
    centre = parts.HEAD + max(_top(size, section.scale), radius + AXIS_BEYOND)
    drawing = Drawing(section.scale, section.left, centre, "plan")
    count, wide, high = parts.openings(size)
    opening = "firing mouth" if size.mouths else "draw eye"
    openings = opening if count == 1 else f"{count} {opening}s"
    title = f"The same kiln in plan, cut {millimetres(cut_height(size), 10)} above the floor"
    drawing.text(MARGIN, 40, title, size=21, font_weight="bold")
    drawing.text(MARGIN, 62, f"Through the {openings}, to the section's scale. {CAUTION}", size=12, fill=MUTED)
    _wall(drawing, size)
    outlines, larger = charge_outlines(size)
    parts.lay(drawing, outlines)
    if size.mouths:
        _hearth(drawing, size)
    for number_of, turn in enumerate(_turns(size), start=1):
        _opening(drawing, size, turn, number_of)
    _ring(drawing, size.outer_diameter / 2 + TIE_OUT / drawing.scale, **ABOVE_THE_CUT)
    _axes(drawing, size)
    _person(drawing, size)
    _labels(drawing, size)
    inner, outer = size.kiln_diameter / 2, size.outer_diameter / 2
    drawing.measure_across(-inner, inner, centre + radius + 26, f"inside {metres(size.kiln_diameter)}")
    drawing.measure_across(-outer, outer, centre + radius + 62, f"outside {metres(size.outer_diameter)}")
    fire = ""
    if size.mouths:
        fire = (
            f" In the middle lies the hearth, {metres(2 * hearth_radius(size))} across at this height, in a vault of "
            f"the largest stones; {size.draw_eyes} draw eyes in the cover above it are dashed."
        )
    description = (
        f"Rings about one axis: firebrick {metres(size.kiln_diameter)} across inside, dry fill, and brick or stone "
        f"{metres(size.outer_diameter)} across outside, held by {size.ties} iron ties. The wall is broken by "
        f"{openings}, {metres(wide)} wide and {metres(high)} high.{fire} A person stands beside it."
    )
    note = " Stones are drawn larger than they are." if larger > 1.0 else ""
    return drawing.page(parts.foot(drawing, centre + radius + 106, note), title, description, parts.PATTERNS)
