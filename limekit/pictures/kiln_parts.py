"""What a drawn kiln is put together from: wall, openings, charge, ground, a person, labels."""

from __future__ import annotations

import math

from limekit.facts import fact
from limekit.kiln import fittings
from limekit.kiln.kiln import Kiln
from limekit.pictures.looks import AIR, EARTH, FILL, GAS, GLOW, GRID, INK, JAMB, LINING, MUTED, OUTER, SLAB, STONES
from limekit.pictures.rubble import drawn_sizes, stones
from limekit.pictures.svg import PAGE, PRINTED, Drawing, number

SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
MARGIN = 24.0
LABELS = 232.0
BESIDE = 30.0
ABREAST = 84.0
EDGE = 12.0
REACH = (0.17, 0.27)
HEAD = 92.0
LIFT = 26.0
ROW = 20.0
LINE = 15.0
TALLEST, WITH_CHIMNEY = 700.0, 900.0
PERSON = 1.75
COVER = float(fact("cover_thickness"))
LEAST_COURSE, THINNEST = 2.5, 2.5

BODY = (
    "M-.1 .95H-.058V.985Q0 1.015 .058 .985V.95H.1V.93H.055V.9Q.052 .85 .03 .842V.83Q.115 .825 .125 .77L.165 .6"
    "L.215 .68L.245 .655L.175 .515Q.16 .505 .15 .525L.1 .67L.095 .48L.085 .03L.125 0H.03L.008 .42H-.008"
    "L-.03 0H-.125L-.085 .03L-.095 .48L-.1 .68L-.12 .47H-.17L-.125 .77Q-.115 .825 -.03 .83V.842"
    "Q-.052 .85 -.055 .9V.93H-.1Z"
    "M.222 .95H.238V.1L.268 .08V0H.192V.08L.222 .1Z"
)
PATTERNS = (
    '<marker id="tick" viewBox="-5 -5 10 10" markerWidth="9" markerHeight="9" orient="auto">'
    f'<path d="M-3.5 3.5L3.5 -3.5" stroke="{INK}" stroke-width="1.2"/></marker>'
    '<marker id="dot" viewBox="-3 -3 6 6" markerWidth="6" markerHeight="6">'
    f'<circle r="2.2" fill="{INK}"/></marker>'
    + "".join(
        f'<marker id="{name}" viewBox="0 0 10 10" refX="7" refY="5" markerWidth="4.5" markerHeight="4.5" '
        f'orient="auto"><path d="M0 0L10 5L0 10Z" fill="{colour}"/></marker>'
        for name, colour in (("air", AIR), ("gas", GAS))
    )
    + '<pattern id="sand" width="6" height="6" patternUnits="userSpaceOnUse">'
    f'<path d="M1 1.5h1M4 4.5h1" stroke="{MUTED}" stroke-width="1.2"/></pattern>'
    '<pattern id="earth" width="8" height="8" patternUnits="userSpaceOnUse">'
    f'<rect width="8" height="8" fill="{EARTH}"/><path d="M0 8L8 0" stroke="{MUTED}" stroke-width=".7"/></pattern>'
)


def begin(size: Kiln) -> Drawing:
    """Return a drawing at the largest usual scale at which kiln and person fit, its origin on the hearth's middle."""
    across = size.outer_diameter + sum(REACH) * PERSON
    over = size.chimney_height + COVER if size.chimney_height else 0.0
    high = max(size.kiln_height + COVER + over, PERSON)
    tallest = WITH_CHIMNEY if over else TALLEST
    room = PAGE - LABELS - BESIDE - ABREAST - EDGE
    fitting = (PAGE / PRINTED * 1000 / ratio for ratio in SCALES)
    scale = next(units for units in fitting if across * units <= room and high * units <= tallest)
    floor = HEAD + max(LIFT + (6 if over else 5) * ROW + scale * size.kiln_height, scale * high)
    return Drawing(scale, LABELS + BESIDE + scale * size.outer_diameter / 2, floor, "section")


def openings(size: Kiln) -> tuple[int, float, float]:
    """Return how many openings lie round the foot, evenly from the left on, and their width and height."""
    eye = size.draw_eye_size
    return (size.mouths, size.mouth_width, size.mouth_height) if size.mouths else (size.draw_eyes, eye, eye)


def eye_in_cover(size: Kiln) -> tuple[float, float]:
    """Return how far from the axis a flare kiln's draw eyes lie, and half their side as drawn, in metre."""
    inner = size.kiln_diameter / 2
    return inner / 2, min(size.draw_eye_size, 0.4 * inner) / 2


def ties(drawing: Drawing, size: Kiln) -> tuple[str, float, float]:
    """Draw the iron bands as the section cuts them; return their label, which points at the highest on the left."""
    outer, half = size.outer_diameter / 2, fact("tie_width") / 2
    thick = max(fact("tie_thickness"), THINNEST / drawing.scale)
    levels = fittings.ties(size.outer_diameter, size.kiln_height, openings(size)[2] + size.lining_thickness).levels
    for side in (-1, 1):
        left, right = sorted((side * outer, side * (outer + thick)))
        for number_of, level in enumerate(levels, start=1):
            drawing.box(left, right, level - half, level + half, fill=INK, id=f"tie-{number_of}-{side}")
    return tie_words(size), -outer - thick / 2, drawing.y(levels[-1] + half)


def tie_words(size: Kiln) -> str:
    """Return the label of a kiln's iron bands."""
    return f"{size.ties} iron ties, {size.tie_length:.0f} m of flat bar in all"


def _courses(drawing: Drawing, left: float, right: float, low: float, high: float, course: float) -> None:
    if course * drawing.scale < LEAST_COURSE:
        return
    levels = (course * step for step in range(1, math.ceil(high / course)))
    across = number(drawing.x(right))
    beds = "".join(f"M{drawing.at(left, level)}H{across}" for level in levels if low < level < high)
    drawing.add("path", d=beds, stroke=MUTED, stroke_width="0.45", fill="none")


def wall(drawing: Drawing, size: Kiln, left_from: float, right_from: float = 0.0) -> None:
    """Draw the wall's three layers on both sides, each from the height where it begins."""
    firebrick = fact("firebrick_height") + fact("firebrick_joint")
    brick = fact("common_brick_height") + fact("common_brick_joint")
    near = size.kiln_diameter / 2
    for name, thickness, colour, course in (
        ("lining", size.lining_thickness, LINING, firebrick),
        ("fill", size.fill_thickness, FILL, None),
        ("outer", size.outer_thickness, OUTER, brick),
    ):
        far = near + thickness
        for left, right, low, side in ((near, far, right_from, "right"), (-far, -near, left_from, "left")):
            edges = left, right, low, size.kiln_height
            drawing.box(*edges, fill=colour, stroke=INK, stroke_width="0.8", id=f"{name}-{side}")
            if course is None:
                drawing.box(*edges, fill="url(#sand)")
            else:
                _courses(drawing, *edges, course)
        near = far


def opening(drawing: Drawing, size: Kiln, height: float, side: int) -> float:
    """Draw an opening through the wall, at side -1 or 1, under its arch; return where the wall goes on above."""
    ends = sorted((side * size.kiln_diameter / 2, side * size.outer_diameter / 2))
    top = height + size.lining_thickness
    drawing.box(*ends, 0.0, height, fill=JAMB)
    _courses(drawing, *ends, 0.0, height, fact("common_brick_height") + fact("common_brick_joint"))
    drawing.box(*ends, height, top, fill=LINING, stroke=INK, stroke_width="0.8")
    bricks = math.ceil((ends[1] - ends[0]) / fact("firebrick_length"))
    joints = "".join(
        f"M{drawing.at(ends[0] + step * (ends[1] - ends[0]) / bricks, height)}V{number(drawing.y(top))}"
        for step in range(1, bricks)
    )
    drawing.add("path", d=joints, stroke=MUTED, stroke_width="0.6", fill="none")
    return float(top)


def charge(drawing: Drawing, size: Kiln) -> str:
    """Draw the stones; return a sentence where they had to be drawn larger than they are."""
    inside = size.kiln_diameter, size.kiln_height
    largest, smallest = drawn_sizes(*inside, size.largest_stone, size.smallest_stone)
    note = " Stones are drawn larger than they are." if largest > size.largest_stone else ""
    if size.kind == "shaft":
        largest = smallest = (largest + smallest) / 2
    through = size.mouths % 2 == 0
    outlines = stones(*inside, largest, smallest, size.vault_height or 0.0, size.mouth_height or 0.0, through)
    lay(drawing, outlines)
    return note


def lay(drawing: Drawing, outlines) -> None:
    """Draw stones by their outlines in metres, in three greys."""
    for shade, colour in enumerate(STONES):
        look = {"fill": colour, "stroke": INK, "stroke_width": "0.55", "stroke_linejoin": "round"}
        drawing.area(outlines[shade :: len(STONES)], **look)


def chimney(drawing: Drawing, size: Kiln) -> tuple[str, float, float]:
    """Draw the chimney on its hood over the draw eyes; return its label."""
    foot, half = size.kiln_height + COVER, size.chimney_diameter / 2
    eye, wide = eye_in_cover(size)
    hood, top = foot + COVER, foot + size.chimney_height
    look = {"fill": SLAB, "stroke": INK, "stroke_width": "0.8"}
    base = eye + wide
    outline = [(-base, foot), (-half, hood), (half, hood), (base, foot)]
    drawing.area([outline], fill=GLOW, stroke=INK, stroke_width="0.8")
    drawing.box(-half, half, hood, top, fill=GLOW, id="chimney")
    thick = THINNEST / drawing.scale
    for left, right in ((-half - thick, -half), (half, half + thick)):
        drawing.box(left, right, hood, top, **look)
    gas(drawing, 0.0, top)
    words = f"chimney {size.chimney_height:.1f} m high, {millimetres(2 * half, 10)} wide"
    return words, -half, drawing.y((hood + top) / 2)


def air(drawing: Drawing, size: Kiln, height: float) -> None:
    """Draw the arrow of air into the opening on the left."""
    start, level = drawing.x(-size.outer_diameter / 2), min(drawing.y(0.22 * height), drawing.floor - 9)
    drawing.line([(start - 26, level), (start + 12, level)], stroke=AIR, stroke_width=2, marker_end="url(#air)")
    drawing.text(start - 30, level + 4.5, "air", size=12, anchor="end", fill=INK)


def gas(drawing: Drawing, across: float, up: float) -> None:
    """Draw an arrow of gas upward from a place in metres."""
    place, foot = drawing.x(across), drawing.y(up)
    drawing.line([(place, foot + 8), (place, foot - 24)], stroke=GAS, stroke_width=2, marker_end="url(#gas)")


def surroundings(drawing: Drawing, size: Kiln) -> None:
    """Draw the ground, a person beside the kiln, and the measures of the whole."""
    inner, outer = size.kiln_diameter / 2, size.outer_diameter / 2
    beside = outer + ABREAST / drawing.scale + REACH[0] * PERSON
    start, end = LABELS - 10, drawing.x(beside + REACH[1] * PERSON) + EDGE
    drawing.add("rect", x=start, y=drawing.floor, width=end - start, height=12, fill="url(#earth)")
    drawing.line([(start, drawing.floor), (end, drawing.floor)], stroke_width="1.6")
    drawing.shape(
        BODY, beside, 0.0, PERSON, PERSON, fill=GRID, stroke=MUTED, vector_effect="non-scaling-stroke", id="person"
    )
    drawing.text(drawing.x(beside), drawing.floor + 30, "a person of 1.75 m", size=12, anchor="middle", fill=MUTED)
    drawing.measure_across(-inner, inner, drawing.floor + 40, f"inside {metres(size.kiln_diameter)}")
    drawing.measure_across(-outer, outer, drawing.floor + 84, f"outside {metres(size.outer_diameter)}")
    right = drawing.x(outer)
    drawing.measure_up(0.0, size.kiln_height, right + 24, right + 5, metres(size.kiln_height))


def label(drawing: Drawing, words: str, level: float, *way: tuple[float, float]) -> None:
    """Write a label at the page's level in the left column, with a leader by way of points to a dot."""
    drawing.text(LABELS - 16, level + 4.5, words, anchor="end")
    drawing.line([(LABELS - 11, level), *way], marker_end="url(#dot)", stroke_width="0.7")


def labels_above(drawing: Drawing, size: Kiln, more: list[tuple[str, float, float]]) -> None:
    """Draw the iron bands; label them and the layers from above the rim, and `more`: words, metres across, page's y."""
    outer, rim = size.outer_diameter / 2, drawing.y(size.kiln_height)
    fill = -size.kiln_diameter / 2 - size.lining_thickness
    named = [
        ties(drawing, size),
        (f"wall: brick or stone, {millimetres(size.outer_thickness)}", -outer + size.outer_thickness / 2, rim + 5),
        (f"fill: dry sand or ash, {millimetres(size.fill_thickness)}", fill - size.fill_thickness / 2, rim + 5),
        (f"lining: firebrick, {millimetres(size.lining_thickness)}", fill + size.lining_thickness / 2, rim + 5),
        *more,
    ]
    for step, (words, across, end) in enumerate(named):
        level, place = rim - LIFT - ROW * step, drawing.x(across)
        label(drawing, words, level, (place, level), (place, end))


def foot(drawing: Drawing, level: float, note: str) -> float:
    """Draw the scale bar at the page's level, and what belongs to it; return the page's height."""
    length = 1.0 if drawing.scale <= 300 else 0.5
    wide = length * drawing.scale
    drawing.add("rect", x=MARGIN, y=level - 5, width=wide / 2, height=5, fill=INK)
    drawing.add("rect", x=MARGIN, y=level - 5, width=wide, height=5, fill="none", stroke=INK, id="bar")
    drawing.text(MARGIN + wide + 8, level, f"{length:g} m", size=12)
    ratio = 1000 * PAGE / PRINTED / drawing.scale
    words = f"1 : {ratio:.0f} when printed {PRINTED} mm wide.{note}"
    drawing.text(MARGIN + wide + 52, level, words, size=12, fill=MUTED)
    return level + 16


def millimetres(length: float, step: int = 1) -> str:
    """Return a length in words, in millimetres rounded to a step."""
    return f"{step * round(1000 * length / step)} mm"


def metres(length: float) -> str:
    """Return a length in words, in metres to the centimetre."""
    return f"{length:.2f} m"
