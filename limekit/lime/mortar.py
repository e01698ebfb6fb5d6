"""How much mortar, plaster and limewash a wall wants."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from limekit.balance import putty_from_quicklime
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.lime.mixes import Mix, mortar_mix, mortar_volume
from limekit.units import MM, Count, CubicMetre, Kilogram, KilogramPerCubicMetre, Metre, Second, Share, SquareMetre

Walling = Literal["brick", "rubble", "ashlar"]


@dataclass(frozen=True)
class MortarNeed:
    """What a job wants, waste included."""

    mix: Mix
    mortar_volume: CubicMetre
    putty_volume: CubicMetre
    putty: Kilogram
    quicklime: Kilogram
    sand_volume: CubicMetre
    sand_mass: Kilogram
    basis: tuple[Ground, ...] = ()


def _need(filled: float, mix: str, voids: float, waste: float, putty_density: float) -> MortarNeed:
    recipe = mortar_mix.plain(mix, voids)
    volume = filled / (1.0 - waste)
    sand = volume / mortar_volume.plain(1.0 / recipe.sand_parts, 1.0, voids)
    putty_volume = sand / recipe.sand_parts
    per_kilogram = putty_from_quicklime.plain(1.0, putty_density).putty_volume
    return MortarNeed(
        mix=recipe,
        mortar_volume=volume,
        putty_volume=putty_volume,
        putty=putty_volume * putty_density,
        quicklime=putty_volume / per_kilogram,
        sand_volume=sand,
        sand_mass=sand * fact("sand_bulk_density"),
    )


@edge
def wall_mortar(
    wall_area: SquareMetre,
    wall_thickness: Metre,
    walling: Walling = "rubble",
    joint_share: Share | None = None,
    mix: str = "bedding",
    sand_voids: Share = fact("sand_voids"),
    waste: Share = fact("mortar_waste"),
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
) -> MortarNeed:
    """Return the mortar to build a wall.

    Parameters
    ----------
    wall_area, wall_thickness : SquareMetre, Metre
        Openings taken off.
    walling : {"brick", "rubble", "ashlar"}
        Sets the joints' share where none is given.
    joint_share : Share, optional
        Mortar over the whole wall's volume.
    mix : str
        One of `mix_names`.
    sand_voids : Share
        From the water test.
    waste : Share
        Of the mortar mixed, what never reaches the wall.
    putty_density : KilogramPerCubicMetre

    Notes
    -----
    mortar_volume = wall_area · wall_thickness · joint_share/(1 − waste), shared out by `mortar_mix` and
    `mortar_volume`.
    """
    share = fact("joint_share", walling) if joint_share is None else joint_share
    return _need(wall_area * wall_thickness * share, mix, sand_voids, waste, putty_density)


@edge
def coat_mortar(
    wall_area: SquareMetre,
    coat_thickness: Metre,
    mix: str = "base coat",
    sand_voids: Share = fact("sand_voids"),
    waste: Share = fact("mortar_waste"),
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
) -> MortarNeed:
    """Return the mortar for one coat of plaster or render.

    Parameters
    ----------
    wall_area : SquareMetre
    coat_thickness : Metre
        No more than the recipe's thickest coat; use more coats instead.
    mix : str
        One of `mix_names` that is a coat.
    sand_voids, waste, putty_density
        As for `wall_mortar`.

    Raises
    ------
    InputError
        If the mix is not for coats, or the coat is too thick to dry and set.

    Notes
    -----
    mortar_volume = wall_area · coat_thickness/(1 − waste), shared out by `mortar_mix` and `mortar_volume`.
    """
    need = _need(wall_area * coat_thickness, mix, sand_voids, waste, putty_density)
    thickest = need.mix.coat_most
    if thickest is None or coat_thickness > thickest * (1.0 + 1e-9):
        most = "no coat at all" if thickest is None else f"{MM * thickest:.0f} mm at most, then another coat"
        got = f"{MM * coat_thickness:.0f} mm of {mix}"
        raise InputError("coat_thickness", got, most, 'mix="base coat", coat_thickness="10 mm"')
    return need


@dataclass(frozen=True)
class Limewash:
    """Limewash for a wall. ``limewash_volume = putty_volume + water_volume``."""

    limewash_volume: CubicMetre
    putty_volume: CubicMetre
    water_volume: CubicMetre
    coats: Count
    coating_time: Second
    basis: tuple[Ground, ...] = ()


@edge
def limewash(
    wall_area: SquareMetre,
    coats: Count = 4,
    limewash_dilution: Share = fact("limewash_dilution"),
    limewash_use: Metre = fact("limewash_use"),
) -> Limewash:
    """Return the limewash for a wall: several thin coats a day apart, on a damp wall.

    Parameters
    ----------
    wall_area : SquareMetre
    coats : Count
        Three to five as a rule.
    limewash_dilution : Share
        Water to one of putty, by volume: 1 to 2 (trade notes).
    limewash_use : Metre
        Litres a square metre and coat; by the wall's suction 0.1 to 0.25 (common practice).

    Returns
    -------
    Limewash
        `coating_time` runs from the first coat to the last.

    Raises
    ------
    InputError
        For no coats, or half of one.

    Notes
    -----
    limewash_volume = wall_area · limewash_use · coats; putty_volume = limewash_volume/(1 + limewash_dilution).
    """
    if coats < 1 or coats % 1:
        raise InputError("coats", f"{coats:g}", "a whole number, one at least", "coats=4")
    volume = wall_area * limewash_use * coats
    putty_volume = volume / (1.0 + limewash_dilution)
    return Limewash(volume, putty_volume, volume - putty_volume, coats, (coats - 1) * fact("limewash_coat_gap"))
