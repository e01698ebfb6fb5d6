"""Putty in its tank: how much, how thick, how high it stands, and when it may be used."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from limekit import balance
from limekit.dates import read_date, shifted
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import Fact, fact, rivals
from limekit.lime.tanks import Tank, putty_level, putty_volume
from limekit.units import DAY, LITRES, CubicMetre, Kilogram, KilogramPerCubicMetre, Metre, Share

PuttyUse = Literal["mortar", "plaster", "limewash"]
PuttyLime = Literal["fat", "magnesian"]


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

    Notes
    -----
    V2 = V1 ρ1 w1/(ρ2 w2), with the density ρ and `putty_solids` w before and after.
    """
    if putty_density > settled_density:
        got = f"{putty_density / LITRES:.2f} kg/L, thicker than {settled_density / LITRES:.2f} kg/L"
        raise InputError("putty_density", got, "thin putty, that can still settle", 'putty_density="1.25 kg/L"')
    hydrate = putty_volume * putty_density * balance.putty_solids.plain(putty_density)
    settled = hydrate / balance.putty_solids.plain(settled_density) / settled_density
    over = (putty_volume - settled) * fact("water_density")
    return Settled(settled, over, "none: settling hangs on the grain; look each day until the level stands")


@dataclass(frozen=True)
class ReadyDate:
    """When putty may be used, by one source."""

    date: datetime.date
    days: int
    source: str
    is_default: bool


@edge
def ready_dates(slaked_on: datetime.date, use: PuttyUse = "mortar", lime: PuttyLime = "fat") -> tuple[ReadyDate, ...]:
    """Return when putty may be used, by every source; the kit's default first. They disagree.

    Parameters
    ----------
    slaked_on : datetime.date
        Or text as "2026-05-01".
    use : {"mortar", "plaster", "limewash"}
    lime : {"fat", "magnesian"}
        A magnesian one waits for its magnesia, whatever it is wanted for.

    Raises
    ------
    InputError
        If the date cannot be read.
    """
    day = read_date(slaked_on, "slaked_on")

    def ready(matured: Fact, is_default: bool) -> ReadyDate:
        days = round(matured / DAY)
        return ReadyDate(shifted(day, days * DAY), days, matured.basis, is_default)

    known = rivals("maturing_magnesian" if lime == "magnesian" else f"maturing_{use}")
    return tuple(ready(one, number == 0) for number, one in enumerate(known))


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
    lime: PuttyLime = "fat",
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
    use, lime
        As for `ready_dates`.
    film_depth : Metre
        Of the water kept standing on the putty, against the air.

    Raises
    ------
    InputError
        If lengths differ, dates run backwards, or putty and water overflow the tank.

    Notes
    -----
    putty_density = Σ V ρ/Σ V and putty_solids = Σ V ρ w/Σ V ρ, over the charges.
    """
    slaked_on = [slaked_on] if isinstance(slaked_on, str) or not isinstance(slaked_on, Sequence) else slaked_on
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
    ready = ready_dates.plain(dates[-1], use, lime)
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
            f"{LITRES * total:.0f} L of putty; the youngest layer is ready for {use} on {ready[0].date:%d %B %Y}"
            f" ({ready[0].days} days). Keep it under water, covered, and from frost, which ruins it."
        ),
    )
