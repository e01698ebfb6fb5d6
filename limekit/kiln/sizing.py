"""How big a kiln: from the stone it shall hold to its inside, its openings and its wall.

Flare kilns (fire below, stone above, burnt and emptied in turn) and shaft
kilns (stone and fuel in layers, drawn below without end) go by their own
rules. A rule of one is never used for the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from limekit.balance import mass_balance
from limekit.edge import edge, rests_on
from limekit.errors import InputError
from limekit.facts import Fact, fact
from limekit.kiln import fittings
from limekit.kiln.heat import KilnKind
from limekit.kiln.kiln import OUTSIDE, Kiln, usual_wall
from limekit.kiln.wall.layers import brick_count
from limekit.units import MM, TONNE, CubicMetre, Kilogram, KilogramPerCubicMetre, Metre, Share


@edge
def stone_for_putty(
    putty_volume: CubicMetre,
    calcium_carbonate: Share,
    conversion: Share,
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
    magnesium_carbonate: Share = 0.0,
    stone_moisture: Share = fact("stone_moisture"),
    rejects: Share = 0.0,
) -> Kilogram:
    """Return the stone that a wanted volume of putty takes; the reverse of `mass_balance`.

    Whether the stone's lime may be kept as putty at all, `judge_stone` says.

    Parameters
    ----------
    putty_volume : CubicMetre
        Sieved putty wanted in the tank.
    calcium_carbonate, magnesium_carbonate, conversion, putty_density, stone_moisture
        As for `mass_balance`.
    rejects : Share
        Share of the quicklime that is picked out or spilt and never reaches the putty.

    Returns
    -------
    Kilogram
        Of stone as weighed; of several where lists or arrays are given.

    Raises
    ------
    InputError
        If the stone gives no quicklime, or the putty would be drier than its hydrate.

    Notes
    -----
    stone = putty_volume/(v (1 − rejects)), with the putty v from a kilogram of stone by `mass_balance`.

    Examples
    --------
    >>> print(f"{stone_for_putty('1112 L', calcium_carbonate=1.0, conversion=0.95):.0f~P}")
    1000 kg
    """
    from_one = mass_balance.plain(
        1.0, calcium_carbonate, conversion, putty_density, magnesium_carbonate, stone_moisture=stone_moisture
    ).putty_volume * (1.0 - rejects)
    if not np.all(from_one):
        raise InputError("putty_volume", "a stone that gives no quicklime", "calcium_carbonate and conversion above 0")
    return putty_volume / from_one


def _rule(kind: str, name: str, given: float | None) -> float:
    return float(fact(f"{kind}_{name}")) if given is None else given


def _refuse_impossible(kind: str, largest: float, smallest: float, diameter: float) -> None:
    if not smallest <= largest:
        got = f"{MM * smallest:.0f} mm, larger than the largest"
        raise InputError("smallest_stone", got, f"at most {MM * largest:.0f} mm")
    if largest >= diameter:
        share = fact(f"{kind}_stone_share")
        raise InputError(
            "largest_stone",
            f"{MM * largest:.0f} mm in a {kind} kiln {diameter:.2f} m across",
            f"stone that goes into it, best of {MM * share * diameter:.0f} mm or less: break it smaller, "
            "or charge more of it",
            f'largest_stone="{10 * int(100 * share * diameter):.0f} mm"',
        )


def _refuse_vault(stone: float, diameter: float, room: float, vault: float) -> None:
    """Refuse a flare kiln with no room (m of its height) for a vault, or a vault that nothing can be fired in."""
    narrowest = fact("mouth_width_least")
    if room <= 0.0:
        bulk = fact("stone_bulk_density")
        got = "stone that fills the kiln and leaves no room for a vault"
        raise InputError("charge_density", got, f"less than {bulk:.0f} kg/m³, as loose stone lies", "")
    if vault > diameter / 2.0:
        got = f"a vault {2.0 * vault:.2f} m wide in a kiln {diameter:.2f} m across"
        raise InputError("height_to_diameter, charge_density", got, "a lower kiln, or more stone in it", "")
    if 2.0 * vault < narrowest:
        raise InputError(
            "stone",
            f"{stone:.0f} kg, over a vault {MM * 2.0 * vault:.0f} mm wide",
            f"stone enough for a vault as wide as a firing mouth, {MM * narrowest:.0f} mm "
            f"({narrowest.basis}); for less, make a trial burn in a stove or a forge",
            'stone="200 kg"',
        )


def _beyond_rules(kind: str, told: dict[str, float | None]) -> Iterator[str]:
    for name, given in told.items():
        usual, unit = fact(f"{kind}_{name}"), " kg/m³" if name == "charge_density" else ""
        if given is None or usual.low <= given <= usual.high:
            continue
        other = "flare" if kind == "shaft" else "shaft"
        theirs = fact(f"{other}_{name}")
        fits = theirs.low <= given <= theirs.high
        yield (
            f"a {name.replace('_', ' ')} of {given:.4g}{unit} for a {kind} kiln; {usual.low:.4g} to "
            f"{usual.high:.4g}{unit} are known ({usual.basis})"
        ) + (f", and it would suit a {other} kiln, which goes by other rules" if fits else "")


def _beyond_flare(stone: float, largest: float, diameter: float) -> Iterator[str]:
    least, most, share = fact("flare_batch_least"), fact("flare_batch_most"), fact("flare_stone_share")
    if stone < least:
        yield (
            f"{stone:.0f} kg, less than the smallest flare kiln that the rules were read from; {least:.0f} kg or more "
            f"are known ({least.basis})"
        )
    if stone > most:
        yield (
            f"{stone / TONNE:.0f} t, more than the largest flare kiln that the rules were read from; "
            f"{most / TONNE:.0f} t or less are known ({most.basis}), and more is burnt in turns, in two kilns, or "
            "drawn from a shaft"
        )
    if largest > share * diameter:
        yield _wide_stone("flare", largest, diameter, share)


def _wide_stone(kind: str, largest: float, diameter: float, share: Fact) -> str:
    return (
        f"stone of {MM * largest:.0f} mm in a {kind} kiln {diameter:.2f} m across; {MM * share * diameter:.0f} mm or "
        f"less are known, {share:.2g} of the diameter ({share.basis}): break it smaller, or charge more of it"
    )


def _beyond_shaft(stone: float, largest: float, smallest: float, diameter: float, height: float) -> Iterator[str]:
    tallest, share = fact("shaft_height_most"), fact("shaft_stone_share")
    if height > tallest:
        yield (
            f"{stone / TONNE:.0f} t held at once, a shaft {height:.1f} m high; {tallest:.0f} m at most are known "
            f"({tallest.basis}): less stone, a smaller height_to_diameter, or two shafts"
        )
    if largest > share * diameter:
        yield _wide_stone("shaft", largest, diameter, share)
    least, most, spread = fact("shaft_stone_least"), fact("shaft_stone_most"), fact("shaft_stone_spread")
    if not least <= smallest <= largest <= most:
        yield (
            f"stone of {MM * smallest:.0f} to {MM * largest:.0f} mm for a shaft; {MM * least:.0f} to "
            f"{MM * most:.0f} mm are known ({most.basis}): break the large, sieve out the small, or burn larger stone "
            "in a flare kiln"
        )
    if largest > spread * smallest:
        yield (
            f"stone of {MM * smallest:.0f} mm beside {MM * largest:.0f} mm in one shaft; largest over smallest of "
            f"{spread:.0f} at most is known ({spread.basis}): sieve out what is smaller than "
            f"{MM * largest / spread:.0f} mm"
        )


def _warnings(kind: str, largest: float, diameter: float) -> tuple[str, ...]:
    found = []
    if kind == "flare" and largest > (easy := fact("flare_stone_share_easy")) * diameter:
        found.append(
            f"Stones of {MM * largest:.0f} mm are more than {easy:.2f} of the diameter: "
            "keep them for the vault over the fire, where it is hottest, and break the rest smaller."
        )
    if kind == "flare" and diameter >= (one := fact("one_mouth_below")):
        found.append(
            f"At {diameter:.1f} m across one firing mouth does not reach all the charge "
            f"(it serves up to {one:.0f} m); this size has more, and wants more hands."
        )
    if kind == "shaft":
        found.append("A shaft only pays while it runs on without end: stone, fuel and hands for weeks.")
    return tuple(found)


def _mouths(diameter: float, vault_height: float) -> tuple[int, float, float]:
    one = fact("one_mouth_below")
    mouths = 1 if diameter < one else 1 + math.ceil((diameter - one) / fact("mouth_reach") + 1e-9)
    area = fact("mouth_share") * math.pi / 4 * diameter**2 / mouths
    height = min(math.sqrt(area * fact("mouth_proportion")), fact("mouth_share_of_vault") * vault_height)
    return mouths, max(area / height, float(fact("mouth_width_least"))), height


def _draw_eyes(diameter: float) -> int:
    wanted = math.ceil(diameter / fact("draw_eye_spacing"))
    return int(min(max(wanted, fact("draw_eyes_least")), fact("draw_eyes_most")))


def _bricks(brick: str, inner: float, thickness: float, height: float, openings: float) -> int:
    ring = math.pi * (inner + thickness) * thickness * height
    return brick_count(brick, ring - openings * thickness, thickness)


@edge
def size_kiln(
    stone: Kilogram,
    largest_stone: Metre,
    *,
    kind: KilnKind = "flare",
    smallest_stone: Metre | None = None,
    height_to_diameter: Share | None = None,
    charge_density: KilogramPerCubicMetre | None = None,
) -> Kiln:
    """Return a first size for a kiln that holds a charge of stone.

    Parameters
    ----------
    stone : Kilogram
        Held at one time.
    largest_stone, smallest_stone : Metre
        Across the pieces charged; without a smallest, half the largest.
    kind : {"flare", "shaft"}
        Flare: fire below, stone above, one burn at a time. Shaft: stone and fuel in layers, drawn
        below without end.
    height_to_diameter : Share, optional
        Of the inside: 1.2 to 1.6 for a flare kiln, 2.5 to 6 for a shaft. Without one, the middle.
    charge_density : KilogramPerCubicMetre, optional
        Stone over the whole inside. Without one, as published for the kind.

    Returns
    -------
    Kiln
        A round kiln with straight walls. Firebricks and common bricks are those of the wall, with
        waste; `arch_bricks` are firebricks more, with waste too, over each mouth of a flare kiln or
        draw eye of a shaft. Floor, footing and cover are not counted. To be shown to work by
        firing it in a model and to be built under the codes of the place.

    Raises
    ------
    InputError
        If no such kiln can be: stone as wide as the kiln, no room for a vault, or a vault narrower than a
        firing mouth or wider than the kiln. What only lies outside what the rules were read from is done,
        and `warnings` say so.

    Notes
    -----
    D = (4 V/(π p))^⅓ and H = p D, with V = stone/charge_density and the height over diameter p. The fire
    vault is taken as half a ball, 2π r³/3 = (H − bed_height) π D²/4: its room is what the published charge
    density leaves when stone lies as loose as in a heap. The draw eyes together are as wide as the
    mouths. An arch is as thick as the lining and goes through the whole wall.

    Examples
    --------
    >>> size = size_kiln(stone="500 kg", largest_stone="80 mm")
    >>> print(f"{size.kiln_diameter:.2f~P} across, {size.kiln_height:.2f~P} high, {size.draw_eyes} draw eyes")
    0.69 m across, 0.96 m high, 2 draw eyes

    Rules of whole mouths and bricks size one kiln at a time; several are a loop.

    >>> kilns = [size_kiln(stone, "80 mm") for stone in ("500 kg", "2 tonne")]
    >>> print([f"{kiln.kiln_diameter:.2f~P}" for kiln in kilns])
    ['0.69 m', '1.09 m']
    """
    density = _rule(kind, "charge_density", charge_density)
    proportion = _rule(kind, "height_to_diameter", height_to_diameter)
    smallest = largest_stone / 2 if smallest_stone is None else smallest_stone
    volume = stone / density
    diameter = (4.0 * volume / (math.pi * proportion)) ** (1.0 / 3.0)
    height, area = proportion * diameter, math.pi / 4 * diameter**2
    _refuse_impossible(kind, largest_stone, smallest, diameter)
    flare = kind == "flare"
    bed = stone / fact("stone_bulk_density") / area if flare else height
    vault = (1.5 * max(height - bed, 0.0) * area / math.pi) ** (1.0 / 3.0) if flare else None
    if flare:
        _refuse_vault(stone, diameter, height - bed, vault)
        beyond = _beyond_flare(stone, largest_stone, diameter)
    else:
        beyond = _beyond_shaft(stone, largest_stone, smallest, diameter, height)
    told = {"charge_density": charge_density, "height_to_diameter": height_to_diameter}
    outside = tuple(f"{OUTSIDE}{one}." for one in (*beyond, *_beyond_rules(kind, told)))
    mouths, mouth_width, mouth_height = _mouths(diameter, vault) if flare else (0, None, None)
    mouth_area = mouths * mouth_width * mouth_height if flare else None
    eyes = _draw_eyes(diameter)
    eye_area = mouth_area if flare else fact("mouth_share") * area
    lining, fill, outer = (thickness for _, thickness in usual_wall(diameter))
    openings = mouth_area or eye_area
    outer_diameter = diameter + 2.0 * (lining + fill + outer)
    eye = math.sqrt(eye_area / eyes)
    arch = fittings.arch_bricks(mouth_width or eye, lining, lining + fill + outer) * (mouths or eyes)
    bands = fittings.ties(outer_diameter, height, (mouth_height or eye) + lining)
    dome = fittings.vault_stones(vault, diameter, largest_stone) if flare else fittings.Vault(None, 0)
    grate = fittings.grate(mouth_width, vault, mouths) if flare else fittings.Grate(0, None)
    return Kiln.plain(
        kind=kind,
        stone=stone,
        largest_stone=largest_stone,
        smallest_stone=smallest,
        kiln_diameter=diameter,
        kiln_height=height,
        kiln_volume=volume,
        height_to_diameter=proportion,
        bed_height=bed,
        hearth_height=height - bed,
        vault_span=2.0 * vault if flare else None,
        vault_height=vault,
        mouths=mouths,
        mouth_width=mouth_width,
        mouth_height=mouth_height,
        air_opening_area=mouth_area,
        draw_eyes=eyes,
        draw_eye_size=eye,
        eye_area=eye_area,
        chimney_diameter=math.sqrt(4.0 * eye_area / math.pi),
        lining_thickness=float(lining),
        fill_thickness=float(fill),
        outer_thickness=float(outer),
        outer_diameter=outer_diameter,
        fire_bricks=_bricks("firebrick", diameter, lining, height, openings),
        common_bricks=_bricks("common_brick", diameter + 2.0 * (lining + fill), outer, height, openings),
        arch_bricks=math.ceil(arch * (1.0 + fact("brick_waste"))),
        ties=len(bands.levels),
        tie_length=bands.length,
        vault_mass=dome.mass,
        vault_stones=dome.stones,
        grate_bars=grate.bars,
        grate_bar_length=grate.length,
        warnings=(*outside, *_warnings(kind, largest_stone, diameter)),
        basis=rests_on(
            f"{kind}_charge_density",
            f"{kind}_height_to_diameter",
            f"{kind}_stone_share",
            "mouth_share",
            lining,
            "tie_spacing",
            "arch_rise",
        ),
    )
