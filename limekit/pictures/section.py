"""A kiln in vertical section, drawn to scale, to print and hang up."""

from __future__ import annotations

import math
from typing import Annotated

from limekit.edge import Fields, edge
from limekit.facts import fact
from limekit.kiln.kiln import Kiln
from limekit.pictures import kiln_parts as parts
from limekit.pictures.kiln_parts import COVER, MARGIN, metres, millimetres
from limekit.pictures.looks import CLAY, FIRE, GLOW, INK, LOG, MUTED, SLAB
from limekit.pictures.svg import Drawing, number

CAUTION = "A first size, not a building plan."
FLAME = "M0 0C-.6 .3 -.1 .6 .12 1C.2 .62 .65 .35 0 0Z"
FLAMES = ((-0.42, 0.5), (-0.14, 0.74), (0.14, 0.62), (0.42, 0.46))
LOGS = 7
FUEL_LAYER = 0.5


def _fire(drawing: Drawing, size: Kiln) -> None:
    """Draw the vault's glow, the logs on the hearth and the flames over them."""
    vault, way, inner = size.vault_height, size.mouth_height, size.kiln_diameter / 2
    radius, crown = number(drawing.scale * vault), math.sqrt(vault**2 - way**2)
    right = f"{drawing.at(vault, 0)}Z"
    if size.mouths % 2 == 0:
        right = f"{drawing.at(crown, way)}H{number(drawing.x(inner))}V{number(drawing.y(0))}Z"
    drawing.add(
        "path",
        d=f"M{drawing.at(-inner, 0)}V{number(drawing.y(way))}H{number(drawing.x(-crown))}"
        f"A{radius} {radius} 0 0 1 {right}",
        fill=GLOW,
        id="vault",
    )
    log = 0.11 * vault
    for step in range(LOGS):
        place = {"cx": drawing.x(2.05 * log * (step - LOGS // 2)), "cy": drawing.y(log), "r": drawing.scale * log}
        drawing.add("circle", **place, fill=LOG, stroke=INK, stroke_width="0.7")
    for across, high in FLAMES:
        drawing.shape(FLAME, across * vault, 1.9 * log, 0.33 * vault, high * vault, fill=FIRE)


def _cover(drawing: Drawing, size: Kiln) -> list[tuple[str, float, float]]:
    """Draw the cover with two of its draw eyes, one slab drawn aside, and the chimney; return their labels."""
    inner, high = size.kiln_diameter / 2, size.kiln_height
    eye, half = parts.eye_in_cover(size)
    edges = (-inner, -eye - half, -eye + half, eye - half, eye + half, inner)
    look = {"stroke": INK, "stroke_width": "0.8"}
    for left, right in zip(edges[::2], edges[1::2], strict=True):
        drawing.box(left, right, high, high + COVER, fill=CLAY, **look)
    slab = eye + half, eye + 3.3 * half
    drawing.box(*slab, high + COVER, high + 1.6 * COVER, fill=SLAB, **look)
    for across in () if size.chimney_height else (-eye, eye):
        parts.gas(drawing, across, high + COVER)
    chimney = [parts.chimney(drawing, size)] if size.chimney_height else []
    level = drawing.y(high + COVER / 2)
    eyes = f"{size.draw_eyes} draw eyes, {millimetres(size.draw_eye_size, 10)} wide"
    return [("cover of shards and clay", -0.92 * inner, level), (eyes, -eye - 0.6 * half, level), *chimney]


def _charge_labels(drawing: Drawing, size: Kiln) -> None:
    inner, vault, way = size.kiln_diameter / 2, size.vault_height, size.mouth_height
    sunk = size.kiln_height * (1.0 - fact("charge_sinking"))
    mouth = "firing mouth" if size.mouths == 1 else f"{size.mouths} firing mouths"
    wide = millimetres(size.mouth_width, 10).removesuffix(" mm")
    named = [
        ("stone sinks to here by the finish", -0.7 * inner, sunk),
        (_stone_words(size), -0.4 * inner, (sunk + vault) / 2),
        (f"{mouth}, {wide} by {millimetres(way, 10)}", 0.06 - size.outer_diameter / 2, way + 0.05),
        (f"fire vault, {metres(size.vault_span)} by {metres(vault)}", -0.72 * vault, 0.7 * way),
    ]
    level = drawing.floor
    for words, across, up in reversed(named):
        level = min(level - parts.LINE, drawing.y(up))
        parts.label(drawing, words, level, (drawing.x(across), drawing.y(up)))
    level = drawing.y(sunk)
    drawing.line([(drawing.x(-inner), level), (drawing.x(inner), level)], stroke_dasharray="7 4", stroke_width="1.4")


def _stone_words(size: Kiln) -> str:
    return f"stone, {1000 * size.smallest_stone:.0f} to {millimetres(size.largest_stone)}"


def _wall(drawing: Drawing, size: Kiln) -> float:
    """Draw the wall with the openings that the section meets; return the height of the arches over them."""
    count, _, height = parts.openings(size)
    top = parts.opening(drawing, size, height, side=-1)
    parts.wall(drawing, size, top, parts.opening(drawing, size, height, side=1) if count % 2 == 0 else 0.0)
    return top


def _flare(drawing: Drawing, size: Kiln) -> str:
    _wall(drawing, size)
    _fire(drawing, size)
    note = parts.charge(drawing, size)
    parts.labels_above(drawing, size, _cover(drawing, size))
    _charge_labels(drawing, size)
    parts.air(drawing, size, size.mouth_height)
    return note


def _shaft(drawing: Drawing, size: Kiln) -> str:
    inner, high, eye = size.kiln_diameter / 2, size.kiln_height, size.draw_eye_size
    top = _wall(drawing, size)
    note = parts.charge(drawing, size)
    for step in range(1, round(high / FUEL_LAYER)):
        drawing.box(-inner, inner, step * FUEL_LAYER, step * FUEL_LAYER + 0.1, fill=INK, fill_opacity="0.7")
    parts.labels_above(drawing, size, [("open top", -0.3 * inner, drawing.y(high) - 6)])
    named = [
        ("stone warms, gas cools", 0.85),
        ("stone and fuel in layers", 0.7),
        ("stone burns", 0.53),
        (_stone_words(size), 0.4),
        ("lime cools, air warms", 0.25),
    ]
    for words, share in named:
        parts.label(drawing, words, drawing.y(share * high), (drawing.x(-0.5 * inner), drawing.y(share * high)))
    eyes = f"{size.draw_eyes} draw eyes, {millimetres(eye, 10)} wide"
    level = drawing.y((top + eye) / 2)
    parts.label(drawing, eyes, level, (drawing.x(0.1 - size.outer_diameter / 2), level))
    parts.gas(drawing, 0.3 * inner, high)
    parts.air(drawing, size, eye)
    return note


@edge
def section_drawing(size: Annotated[Kiln, Fields(("chimney_height",))]) -> str:
    """Return a kiln's vertical section as an SVG to scale.

    Parameters
    ----------
    size : Kiln
        From `size_kiln`, in quantities or in floats; its chimney may be given beside it.

    Returns
    -------
    str
        An SVG that prints 190 mm wide at the scale it names, with a title and a description for
        those who cannot see it. A flare kiln's largest stones lie below; a shaft's layers of fuel
        are drawn by way of example.
    """
    drawing = parts.begin(size)
    stone = f"{size.stone:.0f} kg" if size.stone < 2000 else f"{size.stone / 1000:.3g} t"
    title = f"{size.kind.capitalize()} kiln for {stone} of stone"
    drawing.text(MARGIN, 40, title, size=21, font_weight="bold")
    drawing.text(MARGIN, 62, f"Vertical section A to A, to scale. {CAUTION}", size=12, fill=MUTED)
    drawing.box(-size.kiln_diameter / 2, size.kiln_diameter / 2, 0.0, size.kiln_height, fill=GLOW, id="inside")
    note = (_flare if size.kind == "flare" else _shaft)(drawing, size)
    over = f" A chimney of {metres(size.chimney_height)} stands over the eyes." if size.chimney_height else ""
    parts.surroundings(drawing, size)
    eyes = f"{size.draw_eyes} draw eyes"
    fire = f"Stone and fuel go in at the open top in layers; lime is drawn at {eyes} at the foot."
    if size.kind == "flare":
        vault = f"a vault {metres(size.vault_height)} high built of the largest stones"
        fire = f"Fire burns in {vault}; the rest lies over it under a cover with {eyes}."
    description = (
        f"A round kiln {metres(size.kiln_diameter)} across inside and {metres(size.kiln_height)} high, its wall of "
        f"firebrick, dry fill and brick {metres(size.outer_diameter)} across outside, with {size.ties} iron ties round "
        f"it. {fire}{over} "
        "A person of 1.75 m stands beside it."
    )
    return drawing.page(parts.foot(drawing, drawing.floor + 134, note), title, description, parts.PATTERNS)
