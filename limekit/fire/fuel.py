"""What a fuel is made of, the heat it gives, and the air it needs."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from limekit import tables
from limekit.chemistry import WATER
from limekit.edge import PUBLISHED, Ground, edge
from limekit.errors import InputError
from limekit.facts import fact, known_by, refuse_unsourced
from limekit.units import JoulePerKilogram, Share

FuelName = Literal["oak", "fir", "poplar", "pine", "charcoal", "peat", "coke", "anthracite"]

ELEMENTS = ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")
SUM_SLACK = 0.01


@dataclass(frozen=True)
class Fuel:
    """A dry fuel by its ultimate analysis: shares of the dry mass, ash included, that come to 1.

    ``moisture`` is what it usually holds when it is burnt, as a share of the wet mass.
    """

    label: str
    moisture: float
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


def load(rows: Iterable[dict[str, str]]) -> dict[str, Fuel]:
    """Read fuels from the rows of a table.

    Parameters
    ----------
    rows : iterable of dict
        By column: fuel, label, usual moisture in percent of the wet mass, the elements and ash in
        percent of the dry mass, tag, source, place, note.

    Returns
    -------
    dict of str to Fuel

    Raises
    ------
    InputError
        If a row has no source, no known tag or was read in no place, or its analysis does not come to 100 %.
    """
    found = {}
    for number, row in enumerate(rows, start=2):
        where = f"fuels row {number}, {row['fuel']}"
        refuse_unsourced(row, where)
        shares = {element: float(row[element]) / 100 for element in ELEMENTS}
        if abs(sum(shares.values()) - 1.0) > SUM_SLACK:
            raise InputError(where, f"an analysis that comes to {100 * sum(shares.values()):.1f} %", "about 100 %")
        words = {key: row[key] for key in ("label", "tag", "source", "place", "note")}
        found[row["fuel"]] = Fuel(moisture=float(row["moisture"]) / 100, **shares, **words)
    return found


@functools.cache
def fuels() -> dict[str, Fuel]:
    """Return every fuel the kit ships, by name."""
    return load(tables.rows("fuels"))


def grounds(fuel: FuelName, moisture: float | None) -> tuple[Ground, ...]:
    """Return what a result that burns a fuel rests on: its analysis, and its usual moisture if none was given."""
    one = fuels()[fuel]
    analysis = Ground("fuel", one.label, PUBLISHED[one.tag], one.basis)
    if moisture is not None:
        return (analysis,)
    return analysis, Ground("moisture of the fuel", f"{one.moisture:.2g}", PUBLISHED["practice"], one.note)


def as_fired(fuel: FuelName, moisture: float | None) -> float:
    """Return the moisture given, or what the fuel usually holds."""
    return fuels()[fuel].moisture if moisture is None else moisture


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
        Water over wet mass: the kit's ``moisture``.

    Examples
    --------
    >>> print(f"{wet_basis(dry_basis_moisture=0.25):.2f~P}")
    0.20
    """
    return dry_basis_moisture / (1.0 + dry_basis_moisture)


@edge
def higher_heating_value(fuel: FuelName) -> JoulePerKilogram:
    """Return the heat of a dry fuel when the water it forms is condensed.

    Parameters
    ----------
    fuel : {"oak", "fir", "poplar", "pine", "charcoal", "peat", "coke", "anthracite"}
        By its ultimate analysis in ``data/fuels.csv``.

    Returns
    -------
    JoulePerKilogram
        Per kilogram of dry fuel.

    Notes
    -----
    Channiwala & Parikh 2002, Fuel 81:1051: a weighted sum of the analysis, coefficients from
    memory; the mean error of 1.45 % was read in the abstract.
    """
    made_of = fuels()[fuel]
    return sum(getattr(made_of, element) * fact(f"heating_{element}") for element in ELEMENTS)


@edge
def moist_heating_value(dry_heating_value: JoulePerKilogram, moisture: Share) -> JoulePerKilogram:
    """Return the lower heating value of a moist fuel from that of the dry fuel.

    Parameters
    ----------
    dry_heating_value : JoulePerKilogram
        Lower heating value of the dry fuel.
    moisture : Share
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
    LHV(w) = LHV(0) (1 − w) − 2.443 MJ/kg w.

    Examples
    --------
    >>> print(f"{moist_heating_value('19.0 MJ/kg', moisture=0.2):.2f~P}")
    14.71 MJ/kg
    """
    most = fact("fuel_moisture_most")
    if moisture > most:
        raise InputError(
            "moisture of the fuel",
            f"{100 * moisture:.0f} % of the wet mass, past the {100 * most:.0f} % beyond which fuel keeps no fire",
            f"0 to {100 * most:.0f} % of the wet mass. A meter that reads water over dry mass gives a higher figure: "
            "wet_basis() converts it. Else split the fuel and dry it under cover",
            "moisture=0.2",
        )
    return dry_heating_value * (1.0 - moisture) - fact("water_vaporisation_heat") * moisture


@edge
def lower_heating_value(fuel: FuelName, moisture: Share | None = None) -> JoulePerKilogram:
    """Return the heat a fuel gives in a kiln, where its water leaves as steam.

    Parameters
    ----------
    fuel : {"oak", "fir", "poplar", "pine", "charcoal", "peat", "coke", "anthracite"}
        By its ultimate analysis in ``data/fuels.csv``.
    moisture : Share, optional
        Water as a share of the wet mass; see `wet_basis` for a meter that reads the other way.
        Without it, what the fuel usually holds: 0.20 for wood.

    Returns
    -------
    JoulePerKilogram
        Per kilogram of fuel as it lies on the pile.

    Raises
    ------
    InputError
        If the fuel is wetter than keeps its own fire.

    Examples
    --------
    >>> print(f"{lower_heating_value('oak', moisture=0.2):.1f~P}, {lower_heating_value('charcoal'):.1f~P}")
    14.4 MJ/kg, 29.7 MJ/kg
    """
    water_formed = fuels()[fuel].moles["hydrogen"] / 2 * WATER
    dry = higher_heating_value.plain(fuel) - fact("water_vaporisation_heat") * water_formed
    return moist_heating_value.plain(dry, as_fired(fuel, moisture))


@edge
def air_demand(fuel: FuelName, moisture: Share = 0.0) -> Share:
    """Return the least dry air that burns a fuel, as kilograms of air a kilogram of fuel.

    Parameters
    ----------
    fuel : {"oak", "fir", "poplar", "pine", "charcoal", "peat", "coke", "anthracite"}
        By its ultimate analysis in ``data/fuels.csv``.
    moisture : Share
        Water as a share of the wet mass.

    Returns
    -------
    Share

    Examples
    --------
    >>> print(f"{air_demand('oak'):.2f~P}")
    5.89
    """
    return fuels()[fuel].oxygen_need / fact("oxygen_in_air") * fact("molar_mass_air") * (1.0 - moisture)
