"""What kind of lime a stone or an analysis points to: fat, lean, dolomitic, hydraulic."""

from __future__ import annotations

from dataclasses import dataclass

from limekit import tables
from limekit.balance import mass_balance
from limekit.chemistry import inert
from limekit.edge import edge
from limekit.errors import InputError
from limekit.facts import Fact, fact, known_by
from limekit.units import Share

NOT_HYDRAULIC, BEYOND = "not hydraulic", "beyond the building limes"
SLACK = 1e-9  # by which a share may pass a limit, or clay the stone it is in, and be rounding alone


@dataclass(frozen=True)
class HydraulicClass:
    """A hydraulic or cementation index with the class it falls in."""

    index: float | None
    name: str
    source: str

    def __str__(self) -> str:
        return self.name if self.index is None else f"{self.name} (index {self.index:.2f}; {self.source})"


UNKNOWN = HydraulicClass(None, "unknown", "no analysis of the clay")


def _class_of(index: float, steps: list[tuple[Fact, str]], below: str) -> HydraulicClass:
    name = below
    for start, word in steps:
        if index > start + SLACK:
            name = word
    return HydraulicClass(index, name, steps[0][0].basis)


@edge
def hydraulic_index(
    silica: Share | None = None, alumina: Share | None = None, calcium_oxide: Share | None = None
) -> HydraulicClass:
    """Return the hydraulic index and its class.

    Parameters
    ----------
    silica, alumina, calcium_oxide : Share, optional
        From one analysis, all on the same basis. Only silica combined in clay counts: quartz
        and flint hardly react.

    Returns
    -------
    HydraulicClass
        Class "unknown" where any of the three is missing.

    Notes
    -----
    index = (SiO2 + Al2O3)/CaO, by mass. Classes from Candlot's table: feebly hydraulic from 0.10,
    ordinarily 0.16, truly 0.31, eminently 0.42, past 0.60 not a building lime.
    """
    if silica is None or alumina is None or not calcium_oxide:
        return UNKNOWN
    steps = [
        (fact("hydraulic_feebly_from"), "feebly hydraulic"),
        (fact("hydraulic_ordinary_from"), "ordinarily hydraulic"),
        (fact("hydraulic_real_from"), "truly hydraulic"),
        (fact("hydraulic_eminently_from"), "eminently hydraulic"),
        (fact("hydraulic_eminently_to"), BEYOND),
    ]
    return _class_of((silica + alumina) / calcium_oxide, steps, "fat or lean, not hydraulic")


@edge
def cementation_index(
    silica: Share | None = None,
    alumina: Share | None = None,
    iron_oxide: Share | None = None,
    calcium_oxide: Share | None = None,
    magnesium_oxide: Share | None = None,
) -> HydraulicClass:
    """Return the cementation index and its class.

    Parameters
    ----------
    silica, alumina, iron_oxide, calcium_oxide, magnesium_oxide : Share, optional
        From one analysis, all on the same basis; silica combined in clay only.

    Returns
    -------
    HydraulicClass
        Class "unknown" where any of the five is missing. The class limits are from memory (Eckel).

    Notes
    -----
    index = (2.8 SiO2 + 1.1 Al2O3 + 0.7 Fe2O3)/(CaO + 1.4 MgO), by mass. Weights and classes are Eckel's,
    from memory.
    """
    parts = (silica, alumina, iron_oxide, calcium_oxide, magnesium_oxide)
    if any(part is None for part in parts) or not calcium_oxide + magnesium_oxide:
        return UNKNOWN
    acid = (
        fact("hydraulic_silica_weight") * silica
        + fact("hydraulic_alumina_weight") * alumina
        + fact("hydraulic_iron_weight") * iron_oxide
    )
    steps = [
        (fact("cementation_feebly_from"), "feebly hydraulic"),
        (fact("cementation_moderately_from"), "moderately hydraulic"),
        (fact("cementation_eminently_from"), "eminently hydraulic"),
        (fact("cementation_eminently_to"), BEYOND),
    ]
    index = acid / (calcium_oxide + fact("hydraulic_magnesia_weight") * magnesium_oxide)
    return _class_of(index, steps, "fat or lean, not hydraulic")


@edge
def building_lime_class(calcium_oxide: Share, magnesium_oxide: Share = 0.0, carbon_dioxide_left: Share = 0.0) -> str:
    """Return which calcium lime of EN 459-1 an analysis points to, as an indication only.

    Parameters
    ----------
    calcium_oxide, magnesium_oxide, carbon_dioxide_left : Share
        Shares of the drawn lime by mass.

    Returns
    -------
    str
        "CL 90", "CL 80", "CL 70", "dolomitic" (more magnesia than a calcium lime may hold), or
        "below CL 70". The limits are the nominal ones, from memory. A class is claimed only by
        the standard's own tests, on samples taken by its rules.
    """
    if magnesium_oxide > fact("cl_magnesia_most"):
        return "dolomitic"
    for grade in ("90", "80", "70"):
        oxides_least, gas_most = fact(f"cl{grade}_oxides_least"), fact(f"cl{grade}_carbon_dioxide_most")
        if calcium_oxide + magnesium_oxide >= oxides_least and carbon_dioxide_left <= gas_most:
            return f"CL {grade}"
    return "below CL 70"


@dataclass(frozen=True)
class Keeping:
    """How a stone's lime is slaked and kept, and why; a row of ``data/keeping.csv``."""

    way: str
    as_putty: bool
    words: str
    basis: str

    @property
    def lime(self) -> str:
        """Which lime its putty is, as `limekit.ready_dates` asks for it."""
        return "magnesian" if self.way == "late putty" else "fat"

    def __str__(self) -> str:
        return f"{self.words} [{self.basis}]"


def _kept(hydraulic: str, analysed: bool, dolomitic: bool) -> Keeping:
    if hydraulic == NOT_HYDRAULIC:
        way = "late putty" if dolomitic else "putty"
    elif not analysed:
        way = "analysis first"
    else:
        way = "not slaked" if hydraulic == BEYOND else "dry powder"
    row = tables.by("way", "keeping")[way]
    return Keeping(way, row["as_putty"] == "yes", row["words"], known_by(row["source"], row["tag"]))


@dataclass(frozen=True)
class StoneVerdict:
    """What a stone's lime would be, burnt right through: the lime, the most its clay could make of it, its keeping."""

    calcium_oxide: Share
    magnesium_oxide: Share
    lime_class: str
    hydraulic_at_most: str
    keeping: Keeping

    def __str__(self) -> str:
        if self.lime_class == "dolomitic":
            lime = "a dolomitic lime"
        elif self.lime_class == "below CL 70":
            lime = "a poor lime, below CL 70"
        else:
            lime = f"lime with the oxides of {self.lime_class}"
        return f"{lime}; {self.hydraulic_at_most}"


@edge
def judge_stone(calcium_carbonate: Share, magnesium_carbonate: Share = 0.0, clay: Share | None = None) -> StoneVerdict:
    """Say what lime a stone would give, burnt right through, and how that lime is kept.

    Parameters
    ----------
    calcium_carbonate, magnesium_carbonate : Share
        Shares of the dry stone.
    clay : Share, optional
        Of the dry stone, by analysis. Without it, all that is not carbonate may be clay.

    Returns
    -------
    StoneVerdict
        The class by `building_lime_class`, an indication only. A weighing cannot tell clay from
        quartz, so without an analysis the hydraulic class is what the rest would make *if all of it
        were clay*, and a lime that could then set under water is kept as nothing before there is one.

    Raises
    ------
    InputError
        If the carbonates, or they and the clay, come to more than the whole stone.

    Notes
    -----
    CaO = quicklime/drawn and MgO = magnesia/drawn, of `mass_balance` at full conversion. Clay in the stone
    from Candlot's table: 5–8 % feebly, 8–15 ordinarily, 15–19 truly, 19–22 eminently hydraulic. A stone
    that lies on a limit counts to the class below it.

    Examples
    --------
    >>> [judge_stone(0.85, clay=clay).keeping.way for clay in (None, 0.12, 0.01)]
    ['analysis first', 'dry powder', 'putty']
    """
    burnt = mass_balance.plain(1.0, calcium_carbonate, 1.0, magnesium_carbonate=magnesium_carbonate)
    lime, magnesia = burnt.quicklime / burnt.drawn, burnt.magnesia / burnt.drawn
    rest = inert.plain(calcium_carbonate, magnesium_carbonate)
    if clay is not None and clay > rest + SLACK:
        got = f"{clay:.3g} in a stone of which {rest:.3g} is no carbonate"
        raise InputError("clay", got, "a share of the dry stone, no more than its carbonates leave", "clay=0.02")
    steps = [
        (fact("clay_feebly_from"), "feebly hydraulic"),
        (fact("clay_ordinary_from"), "ordinarily hydraulic"),
        (fact("clay_real_from"), "truly hydraulic"),
        (fact("clay_eminently_from"), "eminently hydraulic"),
        (fact("clay_eminently_to"), BEYOND),
    ]
    word = _class_of(rest if clay is None else clay, steps, NOT_HYDRAULIC).name
    unsure = clay is None and word != NOT_HYDRAULIC
    hydraulic = f"{word} if all the rest is clay, not if it is quartz or flint" if unsure else word
    lime_class = building_lime_class.plain(lime, magnesia)
    keeping = _kept(word, clay is not None, lime_class == "dolomitic")
    return StoneVerdict(lime, magnesia, lime_class, hydraulic, keeping)
