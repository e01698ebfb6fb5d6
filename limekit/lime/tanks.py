"""Tanks for putty: volume from level, and level from volume."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from limekit.edge import edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import LITRES, CubicMetre, Metre

TankShape = Literal["box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"]

HALVINGS = 60  # of a tank's height; leaves no error a float can show


@dataclass(frozen=True)
class Tank:
    """A tank's inside in metres; `tank` makes it and checks it."""

    shape: TankShape
    height: float
    length: float = 0.0
    width: float = 0.0
    diameter: float = 0.0
    dish_depth: float = 0.0

    def filled(self, level: float) -> float:
        """Return the volume below a level, both from the lowest point of the inside, m³."""
        radius = self.diameter / 2.0
        if self.shape in ("box", "cube container"):
            return self.length * self.width * level
        if self.shape == "lying cylinder":
            up = min(max(1.0 - level / radius, -1.0), 1.0)
            return self.length * radius**2 * (math.acos(up) - up * math.sqrt(1.0 - up * up))
        cap = min(level, self.dish_depth)
        dish = 0.0
        if cap > 0.0:
            sphere = (radius**2 + self.dish_depth**2) / (2.0 * self.dish_depth)
            dish = math.pi * cap**2 * (sphere - cap / 3.0)
        return dish + math.pi * radius**2 * (level - cap)

    @property
    def brim(self) -> float:
        """The volume it holds when full, m³."""
        return self.filled(self.height)


@edge
def tank(
    tank_shape: TankShape,
    tank_height: Metre | None = None,
    tank_length: Metre | None = None,
    tank_width: Metre | None = None,
    tank_diameter: Metre | None = None,
    dish_depth: Metre | None = None,
) -> Tank:
    """Return a tank by its inside measures.

    Parameters
    ----------
    tank_shape : {"box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"}
        A dished cylinder stands on a bottom that is the cap of a sphere. The cube container is the
        common caged one of 1000 L, and needs no measures.
    tank_height : Metre
        Lowest point to brim; a lying cylinder's is its diameter.
    tank_length, tank_width : Metre
        Of a box; a lying cylinder has a length only.
    tank_diameter : Metre
        Of the cylinders.
    dish_depth : Metre
        Of the bottom, no more than half the diameter.

    Raises
    ------
    InputError
        If a measure is missing or the dish is too deep.
    """
    if tank_shape == "cube container":
        return Tank(tank_shape, *(float(fact(f"cube_{side}")) for side in ("height", "length", "width")))
    given = {
        "tank_height": tank_height,
        "tank_length": tank_length,
        "tank_width": tank_width,
        "tank_diameter": tank_diameter,
        "dish_depth": dish_depth,
    }
    needed = {
        "box": ("tank_height", "tank_length", "tank_width"),
        "upright cylinder": ("tank_height", "tank_diameter"),
        "dished cylinder": ("tank_height", "tank_diameter", "dish_depth"),
        "lying cylinder": ("tank_diameter", "tank_length"),
    }[tank_shape]
    missing = [name for name in needed if not given[name]]
    if missing:
        example = ", ".join(f'{name}="0.9 m"' for name in missing)
        raise InputError(f"a tank, {tank_shape}", f"no {' and no '.join(missing)}", "its inside measures", example)
    if tank_shape == "dished cylinder" and not dish_depth <= min(tank_diameter / 2.0, tank_height):
        got = f"{dish_depth:.3g} m under a diameter of {tank_diameter:.3g} m"
        raise InputError("dish_depth", got, "half the diameter at most, within the height", 'dish_depth="0.2 m"')
    inside = {name.removeprefix("tank_"): given[name] for name in needed}
    if tank_shape == "lying cylinder":
        inside["height"] = tank_diameter
    return Tank(tank_shape, **inside)


@edge
def putty_volume(store: Tank, putty_level: Metre) -> CubicMetre:
    """Return the volume that stands below a level.

    Parameters
    ----------
    store : Tank
    putty_level : Metre
        From the lowest point of the inside, up to the brim.

    Raises
    ------
    InputError
        Above the brim.

    Notes
    -----
    V = length · width · z at a level z. Lying: V = length · r² (acos u − u √(1 − u²)), with u = 1 − z/r. In a dish
    of depth d: V = π z² (R − z/3), with R = (r² + d²)/(2 d), and above it π r² more for each metre.
    """
    if putty_level > store.height * (1.0 + 1e-9):
        got = f"{putty_level:.3g} m in a tank {store.height:.3g} m high"
        raise InputError("putty_level", got, "a level up to the brim", 'putty_level="0.5 m"')
    return store.filled(min(putty_level, store.height))


@edge
def putty_level(store: Tank, putty_volume: CubicMetre) -> Metre:
    """Return the level that a volume stands to; the reverse of `putty_volume`.

    Parameters
    ----------
    store : Tank
    putty_volume : CubicMetre
        Up to the brim.

    Returns
    -------
    Metre
        From the lowest point of the inside.

    Raises
    ------
    InputError
        If the tank cannot hold it.

    Notes
    -----
    The level z at which V(z) = putty_volume, by halving.

    Examples
    --------
    >>> print(f"{putty_level(tank('cube container'), '500 L'):.0f~P}")
    485 mm
    """
    if putty_volume > store.brim * (1.0 + 1e-9):
        got = f"{LITRES * putty_volume:.0f} L in a tank of {LITRES * store.brim:.0f} L"
        raise InputError("putty_volume", got, "no more than the tank holds", 'putty_volume="500 L"')
    low, high = 0.0, store.height
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if store.filled(middle) < putty_volume else (low, middle)
    return high
