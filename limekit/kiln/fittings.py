"""What a round kiln's wall and fire want besides the wall: bands round it, arches through it, a vault, a grate."""

from __future__ import annotations

import math
from typing import NamedTuple

from limekit.facts import fact
from limekit.kiln.wall.layers import brick_count, material


class Ties(NamedTuple):
    """Iron bands round a kiln: the height of each above the floor, and the iron of all together, in metre."""

    levels: tuple[float, ...]
    length: float


class Vault(NamedTuple):
    """Stones set in a fire vault: their mass in kg and how many they are."""

    mass: float
    stones: int


class Grate(NamedTuple):
    """Bars of a grate: how many, and the length of each in metre."""

    bars: int
    length: float


class Chimney(NamedTuple):
    """A chimney over the draw eyes: kg as a flue of sheet steel, its guys, and its bricks with their kg."""

    steel: float
    guys: int
    bricks: int
    brickwork: float


def ties(outer_diameter: float, height: float, arches_to: float) -> Ties:
    """Return the bands that hold a wall (metre) together as its lining swells.

    The lowest goes round just above the arches over its openings, the highest just below the rim.
    """
    low, high = arches_to + fact("tie_width"), height - fact("tie_width")
    count = max(int(fact("ties_least")), 1 + math.ceil((high - low) / fact("tie_spacing") - 1e-9))
    levels = tuple(low + step * (high - low) / (count - 1) for step in range(count))
    return Ties(levels, count * (math.pi * outer_diameter + fact("tie_lap")))


def arch_bricks(span: float, thickness: float, depth: float) -> int:
    """Return the firebricks of an arch of bricks on edge, before waste, for its clear span and its ring's depth, metre.

    `depth` is that of the wall, from the kiln's inside to its outside.

    Notes
    -----
    A piece of a circle: radius = (span²/4 + rise²)/(2 rise), angle = 2 asin(span/(2 radius)). Each ring has
    an odd number of bricks, so that one is the key.
    """
    length, width, height, joint = (fact(f"firebrick_{side}") for side in ("length", "width", "height", "joint"))
    rise = fact("arch_rise") * span
    radius = (span**2 / 4.0 + rise**2) / (2.0 * rise)
    angle = 2.0 * math.asin(span / (2.0 * radius))
    rows = math.ceil((depth + joint) / (length + joint) - 1e-9)
    courses = 0
    for ring in range(max(1, round(thickness / width))):
        courses += 2 * (math.ceil(angle * (radius + ring * (width + joint)) / (height + joint) - 1e-9) // 2) + 1
    return courses * rows


def vault_stones(vault_height: float, kiln_diameter: float, largest_stone: float) -> Vault:
    """Return the stones of a half-round vault one stone thick (metre), as far as it stands free of the kiln's wall.

    Notes
    -----
    volume = 2π/3 (R³ − (R² − a²)^1.5 − r³), with the outer radius R and the inner radius r of the
    vault, and the radius a of the kiln.
    """
    outer, wall = vault_height + largest_stone, kiln_diameter / 2.0
    cut = max(outer**2 - wall**2, 0.0) ** 1.5
    shell = 2.0 / 3.0 * math.pi * (outer**3 - cut - vault_height**3)
    mass = fact("stone_bulk_density") * shell
    return Vault(mass, math.ceil(mass / (fact("stone_density") * math.pi / 6.0 * largest_stone**3)))


def chimney(height: float, diameter: float) -> Chimney:
    """Return what a chimney is made of, by its height over the draw eyes and its clear width, metre.

    Notes
    -----
    mass = π (d + t) t h ρ, for a wall t thick round a clear width d: of steel, or of bricks, half a brick thick.
    """
    sheet, leaf = fact("flue_steel_thickness"), fact("common_brick_width")
    steel, brickwork = (math.pi * (diameter + wall) * wall * height for wall in (sheet, leaf))
    guys = int(fact("flue_guys")) if height >= fact("flue_guys_from") else 0
    bricks = brick_count("common_brick", brickwork, leaf)
    return Chimney(fact("steel_density") * steel, guys, bricks, material("common_brick").density * brickwork)


def grate(mouth_width: float, vault_height: float, mouths: int) -> Grate:
    """Return the bars of grates as wide as the mouths (metre), that reach over the hearth from each of them.

    One mouth's grate goes right through the vault, those of several meet in its middle.
    """
    bar, gap = fact("grate_bar_width"), fact("grate_gap")
    across = math.floor((mouth_width + gap) / (bar + gap) + 1e-9)
    reach = (2.0 if mouths == 1 else 1.0) * vault_height + 2.0 * fact("grate_bearing")
    pieces = math.ceil(reach / fact("grate_bar_longest") - 1e-9)
    return Grate(mouths * across * pieces, reach / pieces)
