"""Broken stone packed into a kiln's section, for drawing: the largest below, the smallest on top.

Cells around scattered points, cut at the walls and round the fire vault by
mirroring the points there, then drawn in a little and their corners rounded.
The same kiln always gives the same stones.
"""

from __future__ import annotations

import numpy as np

SEED = 7
MOST_PIECES = 700
ROW = 0.87
JITTER = 0.2
EDGE = 0.3
MORTAR = 0.07
CORNER = 0.18


def drawn_sizes(width: float, height: float, largest: float, smallest: float) -> tuple[float, float]:
    """Return the two sizes to draw: the true ones, or larger in proportion where there would be too many."""
    mean = (largest + smallest) / 2
    factor = max(1.0, (width * height / MOST_PIECES) ** 0.5 / mean)
    return largest * factor, smallest * factor


def _points(width: float, height: float, largest: float, smallest: float) -> np.ndarray:
    chance, rows, level = np.random.default_rng(SEED), [], 0.0
    while level < height:
        size = largest + (smallest - largest) * level / height
        level += ROW * size
        count = max(2, round(width / size))
        across = (np.arange(count) + 0.25 + 0.5 * (len(rows) % 2)) / count * width - width / 2
        rows.append(
            np.column_stack([across, np.full(count, level - ROW * size / 2)])
            + size * JITTER * chance.uniform(-1, 1, (count, 2))
        )
    return np.vstack(rows)


def _round(corners: np.ndarray) -> np.ndarray:
    after = np.roll(corners, -1, axis=0)
    return np.stack([(1 - CORNER) * corners + CORNER * after, CORNER * corners + (1 - CORNER) * after], axis=1).reshape(
        -1, 2
    )


def stones(
    width: float,
    height: float,
    largest: float,
    smallest: float,
    vault: float = 0.0,
    way: float = 0.0,
    way_through: bool = False,
) -> list[np.ndarray]:
    """Return the outlines of the stones in a section of a kiln's charge.

    Parameters
    ----------
    width, height : float
        Of the inside, metre.
    largest, smallest : float
        Size of the pieces at the bottom and at the top, metre.
    vault : float
        Radius of the half-round fire vault on the middle of the floor, metre; 0 for none.
    way : float
        Height of the flame's way from the left wall into the vault, metre.
    way_through : bool
        Whether the way goes on to the right wall.

    Returns
    -------
    list of ndarray
        Corners (n, 2) in metre: across from the middle, and up from the floor.
    """
    from scipy.spatial import Voronoi

    points = _points(width, height, largest, smallest)
    x, y = points.T
    out = np.hypot(x, y)
    near = EDGE * (largest + (smallest - largest) * y / height)
    in_way = (way_through | (x < 0)) & (y < way + near) if way else np.zeros(len(x), bool)
    inside = (np.abs(x) < width / 2 - near) & (y > near) & (y < height - near) & ~in_way & (out > vault + near)
    kept = points[inside]
    x, y = kept.T
    mirrors = [
        np.column_stack([width - x, y]),
        np.column_stack([-width - x, y]),
        np.column_stack([x, -y]),
        np.column_stack([x, 2 * height - y]),
    ]
    if vault:
        out = np.hypot(x, y)
        mirrors.append(kept * ((2 * vault - out) / out)[:, None])
    if way:
        mirrors.append(np.column_stack([x, 2 * way - y])[way_through | (x < 0)])
    cells = Voronoi(np.vstack([kept, *mirrors]))
    outlines = []
    for place in range(len(kept)):
        corners = cells.vertices[cells.regions[cells.point_region[place]]]
        middle = corners.mean(axis=0)
        drawn = _round(middle + (1.0 - MORTAR) * (corners - middle))
        low = (way_through | (drawn[:, 0] < 0)) & (drawn[:, 1] < way) if way else np.zeros(len(drawn), bool)
        in_vault = np.hypot(*drawn.T) < vault
        outside = (np.abs(drawn[:, 0]) > width / 2) | (drawn[:, 1] < 0) | (drawn[:, 1] > height)
        if not (low | in_vault | outside).any():
            outlines.append(drawn)
    return outlines
