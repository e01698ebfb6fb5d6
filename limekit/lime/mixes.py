"""Mixes of putty and sand, by the sand's voids.

Parts are by volume, slaked putty to dry loose sand, unless another basis is
named: "1:3" counted on quicklime is a far richer mortar.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from limekit import tables
from limekit.balance import putty_from_quicklime
from limekit.edge import Ground, edge
from limekit.errors import InputError, not_among
from limekit.facts import fact, known_by
from limekit.units import MM, CubicMetre, KilogramPerCubicMetre, Metre, Share

HOT = ("hot mix", "hot-mixed", "hot lime")
LimeBasis = Literal["slaked putty", "quicklime"]


@edge
def sand_voids(water_filled: CubicMetre, sand_volume: CubicMetre) -> Share:
    """Return the voids in a sand, from the water that fills a measure of it to the brim.

    Parameters
    ----------
    water_filled : CubicMetre
        Water poured in until it just shows.
    sand_volume : CubicMetre
        Of the sand, dry and loose; damp sand bulks, and reads too high.

    Raises
    ------
    InputError
        Outside what sand can hold.

    Notes
    -----
    voids = water_filled/sand_volume.

    Examples
    --------
    >>> print(sand_voids(water_filled="350 mL", sand_volume="1 L"))
    0.35
    """
    voids, usual = water_filled / sand_volume, fact("sand_voids_possible")
    if not usual.low <= voids <= usual.high:
        wanted = f"{usual.low:.2f} to {usual.high:.2f}: dry the sand, fill loosely, pour until the water just shows"
        raise InputError("water_filled", f"voids of {voids:.2f}", wanted, 'water_filled="350 mL", sand_volume="1 L"')
    return voids


@dataclass(frozen=True)
class MixBasis:
    """One mix on both bases: parts of sand to one of putty, and to one of lump quicklime, by volume."""

    sand_to_putty: Share
    sand_to_quicklime: Share
    words: str
    basis: tuple[Ground, ...] = ()


@edge
def mix_basis(
    sand_parts: Share,
    lime_basis: LimeBasis = "slaked putty",
    available_lime: Share = fact("available_lime"),
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
    quicklime_bulk_density: KilogramPerCubicMetre = fact("quicklime_bulk_density"),
) -> MixBasis:
    """Say a mix on both bases, for "1:3" alone does not tell which lime was counted.

    Parameters
    ----------
    sand_parts : Share
        To one part of lime, by volume.
    lime_basis : {"slaked putty", "quicklime"}
        What the part of lime was.
    available_lime : Share
        CaO that slakes, as a share of the quicklime.
    putty_density : KilogramPerCubicMetre
    quicklime_bulk_density : KilogramPerCubicMetre
        Of lump lime as it lies in the measure.

    Raises
    ------
    InputError
        If nothing of the lime slakes.

    Notes
    -----
    sand_to_quicklime = sand_to_putty · ρ a v, with quicklime_bulk_density ρ, available_lime a and the putty v
    that a kilogram of CaO makes.
    """
    if not available_lime:
        raise InputError("available_lime", "0 %", "lime of which some slakes", "available_lime=0.9")
    per_kilogram = putty_from_quicklime.plain(1.0, putty_density).putty_volume
    swell = quicklime_bulk_density * available_lime * per_kilogram
    putty_parts = sand_parts / swell if lime_basis == "quicklime" else sand_parts
    words = f"1:{putty_parts * swell:.2g} counted on quicklime is 1:{putty_parts:.2g} counted on slaked putty."
    return MixBasis(putty_parts, putty_parts * swell, words)


@dataclass(frozen=True)
class Mix:
    """A mix by volume, slaked putty to dry loose sand."""

    mix: str
    lime_parts: Share
    sand_parts: Share
    coat_least: Metre | None
    coat_most: Metre | None
    putty_sieve: Metre
    words: str
    source: str
    basis: tuple[Ground, ...] = ()


def mix_names() -> tuple[str, ...]:
    """Return the mixes there are, from ``data/mixes.csv``."""
    return tuple(tables.by("mix", "mixes"))


@edge
def mortar_mix(mix: str = "bedding", sand_voids: Share = fact("sand_voids")) -> Mix:
    """Return a mix by its use, made richer where the sand's voids want more putty than the recipe has.

    Parameters
    ----------
    mix : str
        One of `mix_names`: bedding, pointing, base coat, float coat, finish.
    sand_voids : Share
        From the water test.

    Raises
    ------
    InputError
        If there is no such mix, or it is mixed hot.

    Notes
    -----
    sand_parts = min(recipe, 1/sand_voids): putty must at least fill the voids between the grains.
    """
    rows = tables.by("mix", "mixes")
    if mix in HOT:
        got = f"'{mix}', slaked in the sand: common once, dangerous to mix, and not taught here"
        raise InputError("mix", got, f"one of {', '.join(rows)}, of cold putty", 'mix="bedding"')
    if mix not in rows:
        raise not_among(rows, "mix", mix)
    row = rows[mix]
    recipe, most = float(row["sand_parts"]) / float(row["lime_parts"]), 1.0 / sand_voids
    sand = min(recipe, most)
    why = "as the recipe" if recipe <= most else f"richer than the recipe's 1:{recipe:g}, to fill the sand's voids"
    coat = [float(row[end]) / MM if row[end] else None for end in ("coat_least", "coat_most")]
    return Mix(
        mix=mix,
        lime_parts=1.0,
        sand_parts=sand,
        coat_least=coat[0],
        coat_most=coat[1],
        putty_sieve=float(row["putty_sieve"]) / MM,
        words=f"1:{sand:.2g} by volume, slaked putty to dry loose sand, {why}; {row['note']}.",
        source=known_by(row["source"], row["tag"]),
    )


@edge
def mortar_volume(
    putty_volume: CubicMetre, sand_volume: CubicMetre, sand_voids: Share = fact("sand_voids")
) -> CubicMetre:
    """Return the mortar that putty and sand make together.

    Parameters
    ----------
    putty_volume : CubicMetre
    sand_volume : CubicMetre
        Dry and loose.
    sand_voids : Share
        From the water test.

    Returns
    -------
    CubicMetre
        Putty hides in the voids until they are full; never less than the sand.

    Notes
    -----
    mortar = max(sand, sand (1 − sand_voids) + putty), by volume.

    Examples
    --------
    >>> print(f"{mortar_volume('9 ft3', '27 ft3').to('ft^3'):.0f~P}")
    27 ft³
    """
    return max(sand_volume, sand_volume * (1.0 - sand_voids) + putty_volume)
