"""The chart of a burn on paper: for each thermometer and the fuel, the band expected, to pencil readings into."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from limekit.pictures.looks import EARTH, GRID, INK, MUTED
from limekit.pictures.svg import PAGE, Drawing, number

LEFT, RIGHT, GAP, FOOT = 46.0, 8.0, 20.0, 16.0  # page units
ROWS = 6  # of a panel, between its foot and its top


class Panel(NamedTuple):
    """One quantity over the hours: its title with its unit, the band expected by hour, and where its axis ends."""

    title: str
    low: np.ndarray
    high: np.ndarray
    most: float


def burn_chart(name: str, hours: np.ndarray, panels: Sequence[Panel], height: float) -> str:
    """Return panels one above the other as an SVG, all over the same hours (n,) from lighting on.

    Its name begins every id; `height` is of one panel, in page units of which 760 are the page's width.
    """
    drawing, wide = Drawing(1.0, 0.0, 0.0, name), PAGE - LEFT - RIGHT
    end = float(hours[-1])

    def across(hour) -> np.ndarray:
        return LEFT + wide * np.asarray(hour) / end

    for step, panel in enumerate(panels):
        foot = GAP + step * (height + GAP + FOOT) + height

        def upward(figure, foot=foot, most=panel.most) -> np.ndarray:
            return foot - height * np.clip(np.asarray(figure) / most, 0.0, 1.0)

        around = [*zip(across(hours), upward(panel.high), strict=True)]
        around += [*zip(across(hours[::-1]), upward(panel.low)[::-1], strict=True)]
        outline = "L".join(f"{number(x)} {number(y)}" for x, y in around)
        drawing.add("path", d=f"M{outline}Z", fill=EARTH, id=f"band-{step}")
        for figure in np.linspace(0.0, panel.most, ROWS + 1):
            level = float(upward(figure))
            drawing.line([(LEFT, level), (PAGE - RIGHT, level)], stroke=GRID, stroke_width="0.5")
            drawing.text(LEFT - 4, level + 3, f"{figure:.0f}", size=9, anchor="end", fill=MUTED)
        for hour in range(round(end) + 1):
            place, heavy = float(across(hour)), hour % 6 == 0
            look = {"stroke": MUTED if heavy else GRID, "stroke_width": "0.8" if heavy else "0.4"}
            drawing.line([(place, foot), (place, foot - height)], **look)
            if hour % 2 == 0:
                drawing.text(place, foot + 11, f"{hour}", size=9, anchor="middle", fill=MUTED)
        drawing.text(LEFT, foot - height - 6, panel.title, size=11, fill=INK, font_weight="bold")
    described = "; ".join(f"{panel.title}, at the end {panel.low[-1]:.0f} to {panel.high[-1]:.0f}" for panel in panels)
    total = GAP + len(panels) * (height + GAP + FOOT)
    return drawing.page(total, "What the plan expects hour by hour", described, "")
