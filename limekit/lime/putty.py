"""Putty in its tank: how much, how thick, how high it stands, and when it may be used."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from limekit import balance
from limekit.chemistry import CALCIUM_HYDROXIDE, CALCIUM_OXIDE
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import Fact, fact, rivals
from limekit.units import CubicMetre, Kilogram, KilogramPerCubicMetre, Metre, Share

TankShape = Literal["box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"]
PuttyUse = Literal["mortar", "plaster", "limewash"]

HALVINGS = 60  # of a tank's height; leaves no error a float can show


@dataclass(frozen=True)
class PuttyYield:
    """The putty that a weight of quicklime makes. ``putty = hydrate + putty_water``."""

    quicklime: Kilogram
    hydrate: Kilogram
    putty: Kilogram
    putty_water: Kilogram
    putty_volume: CubicMetre
    putty_solids: Share
    basis: tuple[Ground, ...] = ()


@edge
def putty_from_quicklime(
    quicklime: Kilogram, putty_density: KilogramPerCubicMetre = fact("putty_density")
) -> PuttyYield:
    """Return the putty that a weight of quicklime makes.

    Parameters
    ----------
    quicklime : Kilogram
        The calcium oxide that slakes; lime times its available share.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.

    Returns
    -------
    PuttyYield

    Examples
    --------
    >>> made = putty_from_quicklime(quicklime="1 kg", putty_density="1.35 kg/L")
    >>> print(f"{made.putty_volume:.2f~P}")
    2.09 l
    """
    solids = balance.putty_solids.plain(putty_density)
    hydrate = quicklime * CALCIUM_HYDROXIDE / CALCIUM_OXIDE
    return PuttyYield(
        quicklime=quicklime,
        hydrate=hydrate,
        putty=hydrate / solids,
        putty_water=hydrate / solids - hydrate,
        putty_volume=hydrate / solids / putty_density,
        putty_solids=solids,
    )


@dataclass(frozen=True)
class Settled:
    """Thin putty once it has settled: putty below, clear lime water above."""

    putty_volume: CubicMetre
    water_over: Kilogram
    time_claimed: str


@edge
def settle(
    putty_volume: CubicMetre,
    putty_density: KilogramPerCubicMetre,
    settled_density: KilogramPerCubicMetre = fact("putty_density"),
) -> Settled:
    """Return what thin putty settles to; mass is kept.

    Parameters
    ----------
    putty_volume, putty_density : CubicMetre, KilogramPerCubicMetre
        As it lies now.
    settled_density : KilogramPerCubicMetre
        What it is taken to settle to: 1.35 kg/L, 1.30 to 1.45 by the lime (masons' supply page).

    Returns
    -------
    Settled
        How long it takes is not claimed: it hangs on the grain, and no rate was read.

    Raises
    ------
    InputError
        If it is already thicker than that.
    """
    if putty_density > settled_density:
        got = f"{putty_density / 1000:.2f} kg/L, thicker than {settled_density / 1000:.2f} kg/L"
        raise InputError("putty_density", got, "thin putty, that can still settle", 'putty_density="1.25 kg/L"')
    hydrate = putty_volume * putty_density * balance.putty_solids.plain(putty_density)
    settled = hydrate / balance.putty_solids.plain(settled_density) / settled_density
    over = (putty_volume - settled) * fact("water_density")
    return Settled(settled, over, "none: settling hangs on the grain; look each day until the level stands")


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

    Returns
    -------
    Tank

    Raises
    ------
    InputError
        If a measure is missing or the dish is too deep.
    """
    if tank_shape == "cube container":
        return Tank(tank_shape, *(float(fact(f"cube_{side}")) for side in ("height", "length", "width")))
    given = {
        "tank_height": tank_diameter if tank_shape == "lying cylinder" else tank_height,
        "tank_length": tank_length,
        "tank_width": tank_width,
        "tank_diameter": tank_diameter,
        "dish_depth": dish_depth,
    }
    needed = {
        "box": ("tank_height", "tank_length", "tank_width"),
        "upright cylinder": ("tank_height", "tank_diameter"),
        "dished cylinder": ("tank_height", "tank_diameter", "dish_depth"),
        "lying cylinder": ("tank_height", "tank_diameter", "tank_length"),
    }[tank_shape]
    missing = [name for name in needed if not given[name]]
    if missing:
        example = ", ".join(f'{name}="0.9 m"' for name in missing)
        raise InputError(f"a tank, {tank_shape}", f"no {' and no '.join(missing)}", "its inside measures", example)
    if tank_shape == "dished cylinder" and not dish_depth <= min(tank_diameter / 2.0, tank_height):
        got = f"{dish_depth:.3g} m under a diameter of {tank_diameter:.3g} m"
        raise InputError("dish_depth", got, "half the diameter at most, within the height", 'dish_depth="0.2 m"')
    return Tank(tank_shape, **{name.removeprefix("tank_"): given[name] for name in needed})


@edge
def putty_volume(store: Tank, putty_level: Metre) -> CubicMetre:
    """Return the volume that stands below a level.

    Parameters
    ----------
    store : Tank
    putty_level : Metre
        From the lowest point of the inside, up to the brim.

    Returns
    -------
    CubicMetre

    Raises
    ------
    InputError
        Above the brim.
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

    Examples
    --------
    >>> print(f"{putty_level(tank('cube container'), '500 L'):.0f~P}")
    485 mm
    """
    if putty_volume > store.brim * (1.0 + 1e-9):
        got = f"{1000 * putty_volume:.0f} L in a tank of {1000 * store.brim:.0f} L"
        raise InputError("putty_volume", got, "no more than the tank holds", 'putty_volume="500 L"')
    low, high = 0.0, store.height
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if store.filled(middle) < putty_volume else (low, middle)
    return high


@dataclass(frozen=True)
class ReadyDate:
    """When putty may be used, by one source."""

    date: datetime.date
    days: int
    source: str
    is_default: bool


@edge
def ready_dates(slaked_on: datetime.date, use: PuttyUse = "mortar") -> tuple[ReadyDate, ...]:
    """Return when putty may be used, by every source; the kit's default first. They disagree.

    Parameters
    ----------
    slaked_on : datetime.date
        Or text as "2026-05-01".
    use : {"mortar", "plaster", "limewash"}

    Returns
    -------
    tuple of ReadyDate

    Raises
    ------
    InputError
        If the date cannot be read.
    """
    day = read_date(slaked_on, "slaked_on")

    def ready(matured: Fact, is_default: bool) -> ReadyDate:
        days = round(matured / 86400.0)
        return ReadyDate(day + datetime.timedelta(days=days), days, matured.basis, is_default)

    return tuple(ready(one, number == 0) for number, one in enumerate(rivals(f"maturing_{use}")))


def read_date(given, asked: str) -> datetime.date:
    """Return a date given as one or as text with the year first."""
    if isinstance(given, datetime.datetime):
        return given.date()
    if isinstance(given, datetime.date):
        return given
    try:
        return datetime.date.fromisoformat(given)
    except (TypeError, ValueError):
        raise InputError(asked, repr(given), "a date, year first", f'{asked}="2026-05-01"') from None


@dataclass(frozen=True)
class PuttyStore:
    """A tank filled over several burns, oldest layer at the bottom.

    `layer_tops` are levels, one a charge; `putty_density` and `putty_solids` are of the whole if it is
    stirred together. `ready` counts from the youngest layer.
    """

    putty_volume: CubicMetre
    putty: Kilogram
    hydrate: Kilogram
    putty_density: KilogramPerCubicMetre
    putty_solids: Share
    putty_level: Metre
    layer_tops: Metre
    room_left: CubicMetre
    water_film: CubicMetre
    youngest: datetime.date
    ready: tuple[ReadyDate, ...]
    words: str
    basis: tuple[Ground, ...] = ()


@edge
def putty_store(
    store: Tank,
    slaked_on: Sequence[datetime.date],
    putty_volumes: CubicMetre,
    putty_densities: KilogramPerCubicMetre = fact("putty_density"),
    use: PuttyUse = "mortar",
    film_depth: Metre = fact("putty_film"),
) -> PuttyStore:
    """Return how a tank stands after several burns were put into it.

    Parameters
    ----------
    store : Tank
    slaked_on : sequence of datetime.date
        One a charge, in the order they went in; or text as "2026-05-01".
    putty_volumes : CubicMetre
        Array, one a charge.
    putty_densities : KilogramPerCubicMetre
        Array, one a charge, or one for all.
    use : {"mortar", "plaster", "limewash"}
        Sets the ready date.
    film_depth : Metre
        Of the water kept standing on the putty, against the air.

    Returns
    -------
    PuttyStore

    Raises
    ------
    InputError
        If lengths differ, dates run backwards, or putty and water overflow the tank.
    """
    dates = [read_date(day, "slaked_on") for day in slaked_on]
    volumes = np.atleast_1d(putty_volumes)
    densities = np.atleast_1d(putty_densities) * np.ones(volumes.shape if np.size(putty_densities) == 1 else 1)
    example = 'slaked_on=["2026-05-01", "2026-06-01"], putty_volumes=quantity([300, 280], "L")'
    if not len(dates) == volumes.size == densities.size or not dates:
        got = f"{len(dates)} dates, {volumes.size} volumes, {densities.size} densities"
        raise InputError("putty_store()", got, "one of each a charge, one charge at least", example)
    if any(later < earlier for earlier, later in pairwise(dates)):
        raise InputError("slaked_on", "dates that run backwards", "charges in the order they went in", example)
    tops = np.array([putty_level.plain(store, float(total)) for total in np.cumsum(volumes)])
    total, mass, level = float(volumes.sum()), float(volumes @ densities), float(tops[-1])
    hydrate = float(sum(v * d * balance.putty_solids.plain(d) for v, d in zip(volumes, densities, strict=True)))
    film = putty_volume.plain(store, level + film_depth) - total
    ready = ready_dates.plain(dates[-1], use)
    return PuttyStore(
        putty_volume=total,
        putty=mass,
        hydrate=hydrate,
        putty_density=mass / total,
        putty_solids=hydrate / mass,
        putty_level=level,
        layer_tops=tops,
        room_left=store.brim - total - film,
        water_film=film,
        youngest=dates[-1],
        ready=ready,
        words=(
            f"{1000 * total:.0f} L of putty; the youngest layer is ready for {use} on {ready[0].date:%d %B %Y}"
            f" ({ready[0].days} days). Keep it under water, covered, and from frost, which ruins it."
        ),
    )
