"""What a fuel is made of, the heat it gives, and the air it needs."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated

from limekit import facts, tables
from limekit.chemistry import WATER
from limekit.edge import PUBLISHED, Ground, Words, edge
from limekit.errors import InputError, not_among
from limekit.facts import Fact, fact, known_by, refuse_unsourced
from limekit.things import Thing
from limekit.units import JoulePerKilogram, Share

KINDS, COMES_AS = ("wood", "charred", "fossil"), ("logs", "lumps")
ELEMENTS = ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")
SUM_SLACK = 0.01


@dataclass(frozen=True)
class FuelAnalysis:
    """A dry fuel by its ultimate analysis: shares of the dry mass, ash included, that come to 1.

    ``fuel_moisture`` is what it usually holds when it is burnt, as a share of the wet mass, and
    ``density`` the dry mass of a seasoned piece over its volume. It ``counts_as`` another where
    figures are known for a few fuels only: what an inventory's factors and a shaft's burning go by.
    """

    label: str
    kind: str
    counts_as: str
    comes_as: str
    density: Fact
    fuel_moisture: float
    carbon: float
    hydrogen: float
    oxygen: float
    nitrogen: float
    sulphur: float
    ash: float
    tag: str
    source: str
    place: str
    note: str

    @property
    def basis(self) -> str:
        """One line a reader can judge it by."""
        return known_by(self.source, self.tag)

    @property
    def moles(self) -> dict[str, float]:
        """Moles of atoms in a kilogram of dry fuel, by element; ash left out."""
        return {element: getattr(self, element) / fact(f"atomic_weight_{element}") for element in ELEMENTS[:-1]}

    @property
    def oxygen_need(self) -> float:
        """Moles of O2 that burn a kilogram of dry fuel, beyond the oxygen it brings."""
        moles = self.moles
        return moles["carbon"] + moles["hydrogen"] / 4 + moles["sulphur"] - moles["oxygen"] / 2


def load(rows: Iterable[dict[str, str]]) -> dict[str, FuelAnalysis]:
    """Read fuels from the rows of a table, with columns as in ``data/fuels.csv``: shares in percent, density in kg/m³.

    Raises `InputError` if a row has no source, no known tag or was read in no place, a word is not among those known,
    or its analysis does not come to 100 %.
    """
    found = {}
    for number, row in enumerate(rows, start=2):
        where = f"fuels row {number}, {row['fuel']}"
        refuse_unsourced(row, where)
        shares = {element: float(row[element]) / 100 for element in ELEMENTS}
        if abs(sum(shares.values()) - 1.0) > SUM_SLACK:
            raise InputError(where, f"an analysis that comes to {100 * sum(shares.values()):.1f} %", "about 100 %")
        for column, known in (("kind", KINDS), ("comes_as", COMES_AS)):
            if row[column] not in known:
                raise not_among(known, f"{where}, {column}", row[column])
        words = {key: row[key] for key in ("label", "kind", "counts_as", "comes_as", "tag", "source", "place", "note")}
        moisture = float(row["fuel_moisture"]) / 100
        found[row["fuel"]] = FuelAnalysis(fuel_moisture=moisture, density=_density(row), **shares, **words)
    return found


def _density(row: dict[str, str]) -> Fact:
    known = {name: row[f"density_{name}"] for name in ("low", "high", "tag", "source", "place", "note")}
    known |= {"key": "fuel_density", "variant": row["fuel"], "default": "yes", "unit": "kg/m^3"}
    return facts.load([known | {"value": row["density"]}])["fuel_density"][0]


@functools.cache
def fuels() -> dict[str, FuelAnalysis]:
    """Return every fuel the kit ships, by name."""
    return load(tables.rows("fuels"))


def fuel_names() -> tuple[str, ...]:
    """Return the name of every fuel, a row each in ``data/fuels.csv``."""
    return tuple(fuels())


FuelKind = Annotated[str, Words(fuel_names)]


@dataclass(frozen=True, repr=False)
class Fuel(Thing):
    """A fuel as it is charged.

    Parameters
    ----------
    kind : FuelKind
        One of `limekit.fuel_names`.
    fuel_moisture : Share, optional
        Water as a share of the wet mass; see `wet_basis` for a meter that reads the other way.
        Without it, what the fuel usually holds: 0.20 for wood.

    Examples
    --------
    >>> Fuel("beech", fuel_moisture="25 %")
    Fuel(kind='beech', fuel_moisture=0.25)
    """

    word = "kind"

    kind: FuelKind = "oak"
    fuel_moisture: Share | None = None

    @property
    def moisture(self) -> float:
        """What it holds, given or as usual."""
        return as_fired(self.kind, self.fuel_moisture)


OAK = Fuel.plain()


def grounds(fuel: FuelKind, fuel_moisture: float | None) -> tuple[Ground, ...]:
    """Return what a result that burns a fuel rests on: its analysis, and its usual moisture if none was given."""
    one = fuels()[fuel]
    analysis = Ground("fuel", one.label, PUBLISHED[one.tag], one.basis)
    if fuel_moisture is not None:
        return (analysis,)
    return analysis, Ground("moisture of the fuel", f"{one.fuel_moisture:.2g}", PUBLISHED["practice"], one.note)


def as_fired(fuel: FuelKind, fuel_moisture: float | None) -> float:
    """Return the moisture given, or what the fuel usually holds."""
    return fuels()[fuel].fuel_moisture if fuel_moisture is None else fuel_moisture


@edge
def wet_basis(dry_basis_moisture: Share) -> Share:
    """Return moisture as a share of the wet mass from moisture as a share of the dry mass.

    Parameters
    ----------
    dry_basis_moisture : Share
        Water over dry mass, as foresters and moisture meters for wood give it; may pass 1.

    Returns
    -------
    Share
        Water over wet mass: the kit's ``fuel_moisture``.

    Notes
    -----
    w = u/(1 + u), with u on the dry mass and w on the wet.

    Examples
    --------
    >>> print(f"{wet_basis(dry_basis_moisture=0.25):.2f~P}")
    0.20
    """
    return dry_basis_moisture / (1.0 + dry_basis_moisture)


@edge
def higher_heating_value(fuel: FuelKind) -> JoulePerKilogram:
    """Return the heat of a dry fuel when the water it forms is condensed.

    Parameters
    ----------
    fuel : FuelKind
        One of `limekit.fuel_names`.

    Returns
    -------
    JoulePerKilogram
        Per kilogram of dry fuel.

    Notes
    -----
    HHV = Σ c x, over carbon, hydrogen, sulphur, oxygen, nitrogen and ash, with the shares x of the
    analysis and the facts ``heating_carbon`` and so on for c: Channiwala & Parikh 2002, Fuel 81:1051,
    coefficients from memory; the mean error of 1.45 % was read in the abstract.
    """
    made_of = fuels()[fuel]
    return sum(getattr(made_of, element) * fact(f"heating_{element}") for element in ELEMENTS)


@edge
def moist_heating_value(dry_heating_value: JoulePerKilogram, fuel_moisture: Share) -> JoulePerKilogram:
    """Return the lower heating value of a moist fuel from that of the dry fuel.

    Parameters
    ----------
    dry_heating_value : JoulePerKilogram
        Lower heating value of the dry fuel.
    fuel_moisture : Share
        Water as a share of the wet mass.

    Returns
    -------
    JoulePerKilogram
        Per kilogram of fuel as it lies on the pile.

    Raises
    ------
    InputError
        If the fuel is wetter than keeps its own fire.

    Notes
    -----
    LHV(w) = LHV(0) (1 − w) − r w, with the fact ``water_vaporisation_heat`` r.

    Examples
    --------
    >>> print(f"{moist_heating_value('19.0 MJ/kg', fuel_moisture=0.2):.2f~P}")
    14.71 MJ/kg
    """
    most = fact("fuel_moisture_most")
    if fuel_moisture > most:
        raise InputError(
            "moisture of the fuel",
            f"{100 * fuel_moisture:.0f} % of the wet mass, past the {100 * most:.0f} % beyond which fuel keeps no fire",
            f"0 to {100 * most:.0f} % of the wet mass. A meter that reads water over dry mass gives a higher figure: "
            "wet_basis() converts it. Else split the fuel and dry it under cover",
            "fuel_moisture=0.2",
        )
    return dry_heating_value * (1.0 - fuel_moisture) - fact("water_vaporisation_heat") * fuel_moisture


@edge
def lower_heating_value(fuel: FuelKind, fuel_moisture: Share | None = None) -> JoulePerKilogram:
    """Return the heat a fuel gives in a kiln, where its water leaves as steam.

    Parameters
    ----------
    fuel : FuelKind
        One of `limekit.fuel_names`.
    fuel_moisture : Share, optional
        As for `Fuel`.

    Returns
    -------
    JoulePerKilogram
        Per kilogram of fuel as it lies on the pile.

    Raises
    ------
    InputError
        If the fuel is wetter than keeps its own fire.

    Notes
    -----
    LHV(0) = HHV − r H M(H2O)/(2 M(H)), with the hydrogen share H, molar masses M and the fact
    ``water_vaporisation_heat`` r; then as `moist_heating_value`.

    Examples
    --------
    >>> print(f"{lower_heating_value('oak', fuel_moisture=0.2):.1f~P}, {lower_heating_value('charcoal'):.1f~P}")
    14.4 MJ/kg, 29.7 MJ/kg
    """
    water_formed = fuels()[fuel].moles["hydrogen"] / 2 * WATER
    dry = higher_heating_value.plain(fuel) - fact("water_vaporisation_heat") * water_formed
    return moist_heating_value.plain(dry, as_fired(fuel, fuel_moisture))


@edge
def air_demand(fuel: FuelKind, fuel_moisture: Share = 0.0) -> Share:
    """Return the least dry air that burns a fuel, as kilograms of air a kilogram of fuel.

    Parameters
    ----------
    fuel : FuelKind
        One of `limekit.fuel_names`.
    fuel_moisture : Share
        Water as a share of the wet mass.

    Notes
    -----
    air = (1 − w) (C/M(C) + H/(4 M(H)) + S/M(S) − O/(2 M(O))) M(air)/x, with the shares of the dry fuel,
    molar masses M and the oxygen x in a mole of air.

    Examples
    --------
    >>> print(f"{air_demand('oak'):.2f~P}")
    5.89
    """
    return fuels()[fuel].oxygen_need / fact("oxygen_in_air") * fact("molar_mass_air") * (1.0 - fuel_moisture)
