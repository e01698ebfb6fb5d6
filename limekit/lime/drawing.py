"""Drawing the kiln: sorted weights, what they say of the burn, and what to change next.

Conversion is found twice. By mass balance: the stone has lost so much of what
it could lose. By sorting: the cores are the stone that did not burn. Where the
two part, something was not weighed, or was not what it seemed.
"""

from __future__ import annotations

from dataclasses import dataclass

from limekit import chemistry
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE, CARBON_DIOXIDE, MAGNESIUM_CARBONATE, MAGNESIUM_OXIDE
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.grading import building_lime_class
from limekit.kiln.heat import kiln_efficiency
from limekit.units import MEGA, Joule, Kilogram, Share


@dataclass(frozen=True)
class Draw:
    """What a drawn kiln came to.

    ``drawn = good_lime + cored + overburnt + fines``, and ``drawn = core + burnt stone``.
    The verdict is "accept", "use as mortar lime" or "re-burn"; "weigh again" where the weights cannot
    all be right, and then `doubt` says why.
    """

    drawn: Kilogram
    good_lime: Kilogram
    core: Kilogram
    good_share: Share
    cored_share: Share
    overburnt_share: Share
    fines_share: Share
    conversion_by_sorting: Share
    conversion_by_mass: Share | None
    conversion: Share
    yield_on_stone: Share | None
    carbon_dioxide_left: Share
    available_lime: Share
    available_in_good: Share
    oxide_share: Share
    efficiency: Share | None
    lime_class: str
    class_of_good: str
    verdict: str
    reason: str
    next_change: str
    doubt: str
    basis: tuple[Ground, ...] = ()


@edge
def core_share(core_ratio: Share, loss_on_ignition: Share = CARBON_DIOXIDE / CALCIUM_CARBONATE) -> Share:
    """Return the unburnt core's share of a piece's mass, from its width across the broken face.

    Parameters
    ----------
    core_ratio : Share
        Core's diameter over the piece's.
    loss_on_ignition : Share
        Of the dry stone; pure limestone unless said otherwise.

    Returns
    -------
    Share
        The carbon dioxide left is this times the loss on ignition.

    Notes
    -----
    share = c³/(c³ + (1 − c³) (1 − loss)), with c = core_ratio: a round core in a round piece that has kept
    its size while it burnt.

    Examples
    --------
    >>> print(f"{core_share(core_ratio=0.5).magnitude:.2f}")
    0.20
    """
    stone = core_ratio**3
    return stone / (stone + (1.0 - stone) * (1.0 - loss_on_ignition))


@edge
def sort_draw(
    good_lime: Kilogram,
    cored: Kilogram = 0.0,
    core: Kilogram = 0.0,
    overburnt: Kilogram = 0.0,
    fines: Kilogram = 0.0,
    calcium_carbonate: Share = fact("calcium_carbonate"),
    magnesium_carbonate: Share = 0.0,
    stone: Kilogram | None = None,
    stone_moisture: Share = fact("stone_moisture"),
    fuel_heat: Joule | None = None,
) -> Draw:
    """Judge a burn by its sorted weights.

    Parameters
    ----------
    good_lime : Kilogram
        Sound pieces burnt through, that slake.
    cored : Kilogram
        Pieces with an unburnt core, whole.
    core : Kilogram
        The cores inside them: break some, and multiply by `core_share`.
    overburnt : Kilogram
        Shrunken, dense, ringing or glazed pieces that hardly slake.
    fines : Kilogram
        Lime that crumbled, without the ash.
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone.
    stone : Kilogram, optional
        Stone charged, as weighed.
    stone_moisture : Share
        Of that stone, as a share of its wet mass.
    fuel_heat : Joule, optional
        The fuel's mass times its lower heating value.

    Returns
    -------
    Draw
        Without `stone`, conversion is by sorting alone. Efficiency is dissociation heat (25 °C
        basis, converted stone only) over the fuel's lower heating value, and needs `fuel_heat`.

    Raises
    ------
    InputError
        If nothing was drawn, the cores weigh more than the pieces that hold them or are missing,
        the stone can lose nothing, more came out than went in, or the fuel held less heat than the stone took up.

    Notes
    -----
    By sorting, conversion = b/(b + core), with b = (drawn − core)/(1 − loss); by mass,
    conversion = (dry − drawn)/(dry · loss), with the dry stone. Cores are taken as wholly unburnt stone and
    all else as burnt through; magnesium carbonate in a core has in truth burnt first. Over-burnt lime is
    lime by mass and is not available lime. `available_in_good` is of the good heap alone, the lime that is
    slaked. Limits for the verdict: EN 459-1 nominal values (from memory) and common practice.
    """
    drawn = good_lime + cored + overburnt + fines
    loss = chemistry.loss_on_ignition.plain(calcium_carbonate, magnesium_carbonate)
    dry = None if stone is None else stone * (1.0 - stone_moisture)
    _check(drawn, cored, core, loss, dry)
    from_burnt = (drawn - core) / (1.0 - loss)
    by_sorting = from_burnt / (from_burnt + core)
    by_mass = None if dry is None else (dry - drawn) / (dry * loss)
    apart = 0.0 if by_mass is None else by_mass - by_sorting
    agree = abs(apart) <= fact("drawing_disagreement")
    conversion = by_sorting if by_mass is None or not agree else min((by_mass + by_sorting) / 2.0, 1.0)

    calcium = calcium_carbonate * CALCIUM_OXIDE / CALCIUM_CARBONATE  # oxides from a kilogram of dry stone
    magnesium = magnesium_carbonate * MAGNESIUM_OXIDE / MAGNESIUM_CARBONATE
    gas_left, overburnt_share, fines_share = core * loss / drawn, overburnt / drawn, fines / drawn
    whole, burnt_share = 1.0 - loss, 1.0 - core / drawn
    made = conversion * (from_burnt + core if dry is None else dry)
    efficiency = kiln_efficiency.plain(made * calcium, 1.0, fuel_heat, made * magnesium) if fuel_heat else None
    if efficiency and efficiency > 1.0:
        got = f"{fuel_heat / MEGA:.4g} MJ, where the stone alone took up {efficiency * fuel_heat / MEGA:.4g} MJ"
        raise InputError("fuel_heat", got, "all the heat of the fuel that was burnt", 'fuel_heat="11300 MJ"')
    oxides = burnt_share * (calcium + magnesium) / whole
    doubt = "" if agree else _doubt(apart, by_mass)
    if efficiency and efficiency > fact("flare_efficiency").high:
        doubt = f"{doubt} {_too_little_fuel(efficiency)}".strip()
    verdict, reason = _verdict(gas_left, overburnt_share)
    next_change = _next_change(gas_left, overburnt_share, cored / drawn, fines_share)
    if not agree:
        verdict, reason, next_change = "weigh again", doubt, "Change nothing until the weights agree."
    return Draw(
        drawn=drawn,
        good_lime=good_lime,
        core=core,
        good_share=good_lime / drawn,
        cored_share=cored / drawn,
        overburnt_share=overburnt_share,
        fines_share=fines_share,
        conversion_by_sorting=by_sorting,
        conversion_by_mass=by_mass,
        conversion=conversion,
        yield_on_stone=None if stone is None else good_lime / stone,
        carbon_dioxide_left=gas_left,
        available_lime=(burnt_share - overburnt_share) * calcium / whole,
        available_in_good=calcium / whole,
        oxide_share=oxides,
        efficiency=efficiency,
        lime_class=building_lime_class.plain(burnt_share * calcium / whole, burnt_share * magnesium / whole, gas_left),
        class_of_good=building_lime_class.plain(calcium / whole, magnesium / whole),
        verdict=verdict,
        reason=reason,
        next_change=next_change,
        doubt=doubt,
    )


def _check(drawn: float, cored: float, core: float, loss: float, dry: float | None) -> None:
    example = 'good_lime="480 kg", cored="70 kg", core="20 kg"'
    if drawn <= 0.0:
        raise InputError("sort_draw()", "nothing drawn", "the weight of at least one heap", example)
    if core > cored or (cored > 0.0 and core == 0.0):
        wanted = "the weight of the cores inside the cored pieces: more than nothing, no more than the pieces"
        raise InputError("core", f"{core:.4g} kg of core in {cored:.4g} kg of cored pieces", wanted, example)
    if loss <= 0.0:
        raise InputError("calcium_carbonate", "a stone without carbonates", "a limestone", "calcium_carbonate=0.95")
    if dry is not None and drawn > dry * (1.0 + 1e-9):
        wanted = "no more lime than dry stone; weigh the lime before it takes up water, and without the ash"
        raise InputError("stone", f"{drawn:.4g} kg drawn from {dry:.4g} kg of dry stone", wanted, 'stone="1000 kg"')


def _too_little_fuel(efficiency: float) -> str:
    flare, shaft = fact("flare_efficiency").high, fact("shaft_efficiency").high
    return (
        f"The fire would have given {100 * efficiency:.0f} % of its heat to the lime, where a kiln burnt in batches "
        f"gives {100 * flare:.0f} % at most, and one fed while it burns {100 * shaft:.0f} %: count the fuel again."
    )


def _doubt(apart: float, by_mass: float) -> str:
    if by_mass > 1.0:
        return (
            "The lime weighs less than its stone burnt right through would: some was lost, left in the kiln or swept "
            "out with the ash, or less stone went in."
        )
    said = f"Mass balance and sorting differ by {100 * apart:+z.0f} points; conversion is by sorting."
    if apart > 0.0:
        return f"{said} Lime was lost or left in the kiln, or the stone held more moisture than was counted."
    return f"{said} Lime took up damp air or ash before weighing, or more cores hide in the good pieces."


def _verdict(gas_left: float, overburnt_share: float) -> tuple[str, str]:
    gas, hard = f"{100 * gas_left:.1f} % carbon dioxide left", f"{100 * overburnt_share:.0f} % over-burnt"
    if gas_left > fact("cl70_carbon_dioxide_most"):
        return "re-burn", f"{gas}: more than CL 70 may hold. Put the cored pieces on top of the next charge."
    if gas_left > fact("cl90_carbon_dioxide_most") or overburnt_share > fact("drawing_overburnt_most"):
        return "use as mortar lime", f"{gas}, {hard}: sort and sieve it, and keep it out of plaster, where it may pop."
    return "accept", f"{gas}, {hard}: within the limits for a sound lime."


def _next_change(gas_left: float, overburnt_share: float, cored_share: float, fines_share: float) -> str:
    soft, hard = gas_left > fact("cl90_carbon_dioxide_most"), overburnt_share > fact("drawing_overburnt_most")
    if soft and hard:
        return "Uneven fire: grade the stone closer, largest where it is hottest, and open the draught evenly."
    if soft:
        return "Under-burnt: break the stone smaller first, then hold the fire longer; not hotter."
    if hard:
        return "Over-burnt: fire less hot; then end sooner."
    if cored_share > fact("drawing_cored_most"):
        in_them = f"{100 * cored_share:.0f} % of it lies in pieces with a core"
        return f"{in_them}: break the stone smaller, and change nothing else."
    if fines_share > fact("drawing_fines_most"):
        return "Much crumbled: dry and warm the stone slowly, lower it without dropping; some stones always crumble."
    return "Change nothing; burn the next one the same way."
