"""A stone and a kiln as the fire goes through them, at some hours side by side, in the light the eye would see."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from limekit.edge import edge, take_one
from limekit.errors import InputError
from limekit.facts import fact
from limekit.kiln.column.history import FiringHistory
from limekit.kiln.firing import Firing
from limekit.pictures import looks
from limekit.pictures.glow import glow_swatch
from limekit.pictures.looks import COLD_STONE, NIGHT
from limekit.pictures.rubble import drawn_sizes, stones
from limekit.pictures.svg import PAGE, Drawing
from limekit.stone.burning import BurntStone
from limekit.units import HOUR, MM, ZERO_CELSIUS, Unit

MARGIN, GAP, HEAD, FOOT = 16.0, 14.0, 64.0, 58.0
TALLEST = 420.0  # page units, of a kiln
MOST = 8  # kilns or stones beside one another
OF_TIMES = (0.25, 0.5, 0.75, 1.0)  # of the whole, where no hours are asked for
HALO = '<filter id="halo" x="-40%" y="-40%" width="180%" height="180%"><feGaussianBlur stdDeviation="9"/></filter>'
CORNERS, WAVES, UNEVEN, SEED = 120, range(2, 14), 0.13, 11  # of a broken stone's outline
ARCH = np.linspace(0.0, np.pi, 41)
RAW = looks.STONE_TO_LIME[0][1]


def _between(cold: str, hot: str, share: float) -> str:
    """Return the colour a share of the way from one to the other."""
    one, other = (np.array([int(colour[place : place + 2], 16) for place in (1, 3, 5)]) for colour in (cold, hot))
    return "#" + "".join(f"{round(part):02x}" for part in one + share * (other - one))


def lit(temperature: float) -> str:
    """Return the colour of a stone in the dark of a kiln: its glow, over what is seen of it before it glows."""
    share = np.clip(temperature / fact("glow_just_visible"), 0.0, 1.0)
    return glow_swatch.plain(temperature) if share == 1.0 else _between(NIGHT, COLD_STONE, share)


def burnt_to(share: float) -> str:
    """Return the colour of a stone laid in daylight, grey where it is raw and white where it is lime."""
    return _between(RAW, looks.WHITE_LIME, share)


class Tide:
    """How hot and how far burnt the stone is at a place of the kiln and a time; plain SI floats."""

    def __init__(self, history: FiringHistory, radius: float, time: float) -> None:
        self.rings, self.heights = history.rings or (history,), history.heights
        edges = radius * np.sqrt(np.arange(len(self.rings) + 1) / len(self.rings))
        self.middles = 0.5 * (edges[:-1] + edges[1:])
        self.heat, self.burnt = (
            np.array([looks.between(one.times, one.by_level(getattr(one, name)), time) for one in self.rings])
            for name in ("stone_temperature", "conversion")
        )

    def of(self, figure: np.ndarray, across: float, up: float) -> float:
        """Return a figure, as `heat` or `burnt`, at metres from the axis and above the floor."""
        by_ring = [np.interp(up, self.heights, ring) for ring in figure]
        return float(np.interp(abs(across), self.middles, by_ring))


def _times(last: float, asked: Sequence | None) -> list[float]:
    """Return the times (s) asked for, none of them past the last."""
    if asked is None:
        return [share * last for share in OF_TIMES]
    wanted, example = f"1 to {MOST} times since lighting", 'hours=["6 h", "12 h"]'
    if isinstance(asked, str) or not isinstance(asked, Sequence) or not 1 <= len(asked) <= MOST:
        raise InputError("hours", f"{asked!r}"[:60], wanted, example)
    return [min(take_one(one, Unit("s"), "hours"), last) for one in asked]


def _width(count: int) -> float:
    return (PAGE - 2 * MARGIN - (count - 1) * GAP) / count


def _page(drawing: Drawing, floor: float, title: str, told: str, defs: str) -> str:
    drawing.text(MARGIN, 26.0, title, size=19, font_weight="bold")
    drawing.text(MARGIN, 48.0, told, size=12, fill=looks.MUTED)
    return drawing.page(floor + FOOT, title, told, defs)


@edge
def tide_drawing(firing: Firing, hours: Sequence | None = None) -> str:
    """Return a kiln cut in half at some hours of its firing, as an SVG: the tide of heat, and behind it that of lime.

    Parameters
    ----------
    firing : Firing
        From `limekit.fire_kiln`.
    hours : sequence, optional
        Times since lighting, ``["6 h", "12 h"]``; without them at a quarter, a half, three quarters and the end.

    Returns
    -------
    str
        Left of each kiln's axis its stones as they glow, as near as a screen comes to it; right of it how far each
        is burnt, from grey to white. Which stone lies where is drawn by chance; how hot and how far burnt it is, by
        its height and its distance from the wall, is the firing's.

    Examples
    --------
    >>> from limekit import size_kiln, fire_kiln
    >>> tide_drawing(fire_kiln(size_kiln(stone="500 kg", largest_stone="100 mm")), ["6 h", "12 h"])[:4]
    '<svg'
    """
    kiln, history = firing.plan.kiln, firing.history
    times = _times(float(history.times[-1]), hours)
    wide = _width(len(times))
    inner, vault = 0.5 * kiln.kiln_diameter, kiln.vault_height
    half = inner + kiln.lining_thickness
    scale = min(0.5 * wide / half, TALLEST / kiln.kiln_height)
    floor = HEAD + scale * kiln.kiln_height
    sizes = drawn_sizes(kiln.kiln_diameter, kiln.kiln_height, kiln.largest_stone, kiln.smallest_stone)
    outlines = stones(kiln.kiln_diameter, kiln.kiln_height, *sizes, vault)
    arch = vault * np.column_stack([np.cos(ARCH), np.sin(ARCH)])
    drawing = Drawing(scale, 0.0, floor, "tide")
    shapes = "".join(f'<path id="s{rank}" d="{drawing.data([one])}"/>' for rank, one in enumerate(outlines))
    for rank, time in enumerate(times):
        drawing.left = MARGIN + 0.5 * wide + rank * (wide + GAP)
        tide = Tide(history, inner, time)
        drawing.box(-half, half, 0.0, kiln.kiln_height, fill=looks.LINING, stroke=looks.INK, stroke_width="0.8")
        drawing.box(-inner, inner, 0.0, kiln.kiln_height, fill=NIGHT)
        hearth = float(np.interp(time, history.times, history.hearth_temperature))
        drawing.area([arch], fill=lit(hearth))
        for stone, (across, up) in enumerate(one.mean(axis=0) for one in outlines):
            colour = lit(tide.of(tide.heat, across, up)) if across < 0 else burnt_to(tide.of(tide.burnt, across, up))
            drawing.add("use", href=f"#s{stone}", x=drawing.left, fill=colour)
        drawing.line([(drawing.x(0.0), HEAD), (drawing.x(0.0), floor)], stroke=looks.PAPER, stroke_width="2")
        burnt = float(np.interp(time, history.times, history.burnt))
        drawing.text(drawing.left, floor + 22.0, f"hour {time / HOUR:.0f}", size=15, anchor="middle")
        drawing.text(drawing.left, floor + 42.0, f"{100 * burnt:.0f} % burnt", size=13, anchor="middle")
    charge = f"{kiln.stone:.0f} kg" if kiln.stone < 2000 else f"{kiln.stone / 1000:.3g} t"
    title = f"The tide in a kiln of {charge}"
    told = "Left of each axis the glow, right of it grey stone turning to white lime. A model's, not a measured kiln's."
    return _page(drawing, floor, title, told, shapes)


def _outline(radius: float, seed: int) -> np.ndarray:
    """Return corners (n, 2) about the middle of a broken stone of a mean radius."""
    chance, around = np.random.default_rng(seed), np.linspace(0.0, 2.0 * np.pi, CORNERS, endpoint=False)
    waves = (np.cos(wave * around + chance.uniform(0.0, 2.0 * np.pi)) / wave**1.4 for wave in WAVES)
    away = radius * (1.0 + UNEVEN * sum(waves))
    return np.column_stack([away * np.cos(around), away * np.sin(around)])


@edge
def stone_drawing(burnt: BurntStone, hours: Sequence | None = None) -> str:
    """Return a stone broken open at some hours in the fire, as an SVG: grey core, white lime, and the glow of its skin.

    Parameters
    ----------
    burnt : BurntStone
        From `limekit.burn_stone`.
    hours : sequence, optional
        Times in the hot gas, ``["1 h", "3 h"]``; without them at a quarter, a half, three quarters and the end.

    Returns
    -------
    str
        Its shape is drawn by chance; the lime's depth and the skin's heat are the model's, of a ball of its size.
    """
    history = burnt.history
    times = _times(float(history.times[-1]), hours)
    wide = _width(len(times))
    radius = float(history.radii[-1])
    scale = 0.36 * wide / radius
    floor = HEAD + wide
    drawing, skin = Drawing(scale, 0.0, floor - 0.5 * wide, "stone"), _outline(radius, SEED)
    for rank, time in enumerate(times):
        drawing.left = MARGIN + 0.5 * wide + rank * (wide + GAP)
        surface = float(looks.between(history.times, history.temperatures, time)[-1])
        core = float(np.interp(time, history.times, history.core_radius))
        share = float(np.interp(time, history.times, history.conversion))
        half = 0.5 * wide / scale
        drawing.box(-half, half, -half, half, fill=NIGHT)
        drawing.area([1.06 * skin], fill=lit(surface), filter="url(#halo)")
        drawing.area([1.02 * skin], fill=lit(surface))
        drawing.area([0.97 * skin], fill=looks.WHITE_LIME)
        drawing.area([0.97 * core / radius * skin], fill=RAW)
        drawing.text(drawing.left, floor + 22.0, f"hour {time / HOUR:.1f}", size=15, anchor="middle")
        told = f"{100 * share:.0f} % lime, skin {surface - ZERO_CELSIUS:.0f} °C"
        drawing.text(drawing.left, floor + 42.0, told, size=13, anchor="middle")
    title = f"A stone of {2 * MM * radius:.0f} mm in the fire"
    told = (
        "Broken open: grey stone, white lime, and the skin's glow. Depth and heat are a model's; the shape is chance."
    )
    return _page(drawing, floor, title, told, HALO)
