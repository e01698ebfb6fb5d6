"""Carbon dioxide of a burn as four lines kept apart: process, fossil, biogenic, taken up again."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from limekit.balance import MassBalance, putty_from_quicklime
from limekit.chemistry import CALCIUM_OXIDE, CARBON_DIOXIDE
from limekit.edge import Ground, edge, rests_on
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.fuel import FuelKind, fuels
from limekit.ledger.bought import oxide_in
from limekit.ledger.ranges import Bar, one_at_a_time, span
from limekit.units import CubicMetre, Joule, JoulePerKilogram, Kilogram, KilogramPerCubicMetre, Metre, Share

GIGAJOULE = 1e9


@dataclass(frozen=True)
class FuelCarbon:
    """What burning one fuel sends up: one of `fossil` and `biogenic` is zero."""

    fuel: FuelKind
    fuel_heat: Joule
    fossil: Kilogram
    biogenic: Kilogram
    basis: tuple[Ground, ...] = ()


@dataclass(frozen=True)
class CarbonLedger:
    """The four lines, for the `quicklime` and the `putty_volume` named.

    Process is counted for stone that converted and no other; what magnesia takes up again is left
    out. A national inventory counts process and fossil; it names biogenic apart, and does not count
    what is taken up again.
    """

    process: Kilogram
    fossil: Kilogram
    biogenic: Kilogram
    re_uptake: Kilogram
    quicklime: Kilogram
    putty_volume: CubicMetre
    basis: tuple[Ground, ...] = ()

    @property
    def lines(self) -> dict[str, Kilogram]:
        """The four lines by name."""
        return {name: getattr(self, name) for name in ("process", "fossil", "biogenic", "re_uptake")}

    @property
    def per_kilogram(self) -> dict[str, float]:
        """The four lines a kilogram of quicklime."""
        return {name: line / self.quicklime for name, line in self.lines.items()}

    @property
    def per_volume(self) -> dict[str, KilogramPerCubicMetre]:
        """The four lines a cubic metre of putty, which is grams a litre."""
        return {name: line / self.putty_volume for name, line in self.lines.items()}


def _factor_key(fuel: FuelKind) -> str:
    return f"co2_factor_{fuels()[fuel].counts_as}"


@edge
def fuel_carbon(fuel: FuelKind, fuel_mass: Kilogram, lower_heating_value: JoulePerKilogram) -> FuelCarbon:
    """Return the carbon dioxide of one fuel burnt.

    Parameters
    ----------
    fuel : FuelKind
        Wood and charcoal are biogenic, the rest fossil; peat is counted as fossil, as inventories do.
    fuel_mass : Kilogram
        As it lies on the pile.
    lower_heating_value : JoulePerKilogram
        As fired; the function of that name finds it from the moisture.

    Returns
    -------
    FuelCarbon
        By the inventory's factor a unit of heat: burning alone, without felling, charring or
        digging the fuel. The carbon in an analysis gives about a tenth less for wood.

    Notes
    -----
    CO2 = fuel_mass · lower_heating_value · f, with the fact ``co2_factor_…`` f of what the fuel counts as.

    Examples
    --------
    >>> print(fuel_carbon("oak", fuel_mass="723 kg", lower_heating_value="15.6 MJ/kg").biogenic)
    1263 kg
    """
    heat = fuel_mass * lower_heating_value
    carbon = heat * fact(_factor_key(fuel))
    fossil, biogenic = (carbon, 0.0) if fuels()[fuel].kind == "fossil" else (0.0, carbon)
    return FuelCarbon(fuel, heat, fossil, biogenic, basis=rests_on(_factor_key(fuel)))


@edge
def freight_carbon(freight: Kilogram, distance: Metre) -> Kilogram:
    """Return the carbon dioxide of carrying a load by lorry.

    Parameters
    ----------
    freight : Kilogram
        The load.
    distance : Metre
        One way; the lorry's empty miles are in the factor.

    Returns
    -------
    Kilogram
        A full long-distance lorry; a small one, a quarter laden, gives about four times as much.

    Notes
    -----
    CO2 = freight · distance · f, with the fact ``freight_co2`` f.

    Examples
    --------
    >>> print(f"{freight_carbon(freight='1 tonne', distance='150 km'):.1f~P}")
    10.9 kg
    """
    return freight * distance * fact("freight_co2")


@edge
def carbon_ledger(
    balance: MassBalance,
    fuels_burnt: tuple[FuelCarbon, ...] = (),
    freight_carbon: Kilogram = 0.0,
    carbonation: Share = fact("carbonation_share"),
) -> CarbonLedger:
    """Return the carbon dioxide of your own burn as four lines.

    Parameters
    ----------
    balance : MassBalance
        From `mass_balance`.
    fuels_burnt : sequence of FuelCarbon
        From `fuel_carbon`, one a fuel.
    freight_carbon : Kilogram
        From `freight_carbon`, for stone and fuel that were carried; a fossil line.
    carbonation : Share
        Of the quicklime that turns back to carbonate in the wall, over years: 0.80 to 0.92 in pure
        lime mortars, 0.20 to 0.23 with cement (Grosso & Campo 2022).

    Raises
    ------
    InputError
        If the burn gave no lime.

    Notes
    -----
    re_uptake = carbonation · quicklime M(CO2)/M(CaO), with molar masses M; process is the carbon dioxide of
    `mass_balance`, fossil and biogenic are sums of `fuel_carbon`, freight with the fossil.
    """
    if balance.quicklime <= 0:
        raise InputError("balance", "a burn that gave no lime", "a conversion above 0", "conversion=0.95")
    return CarbonLedger(
        process=balance.carbon_dioxide,
        fossil=sum(one.fossil for one in fuels_burnt) + freight_carbon,
        biogenic=sum(one.biogenic for one in fuels_burnt),
        re_uptake=_taken_up(balance.quicklime, carbonation),
        quicklime=balance.quicklime,
        putty_volume=balance.putty_volume,
        basis=tuple(ground for one in (balance, *fuels_burnt) for ground in one.basis),
    )


def _taken_up(quicklime: float, carbonation: float) -> float:
    return quicklime / CALCIUM_OXIDE * CARBON_DIOXIDE * carbonation


@edge
def bought_carbon(
    quicklime: Kilogram,
    distance: Metre = 0.0,
    carbonation: Share = fact("carbonation_share"),
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
) -> CarbonLedger:
    """Return the four lines of bought lime that holds as much CaO, to stand beside your own.

    Parameters
    ----------
    quicklime : Kilogram
        The CaO it is to replace.
    distance : Metre
        From the works, by lorry.
    carbonation : Share
        As in `carbon_ledger`.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.

    Returns
    -------
    CarbonLedger
        Process by the figure for European lime, and a modern works' heat from bituminous coal.

    Notes
    -----
    process = p m and fossil = q f m + freight, with m = quicklime/(CaO in bought lime) and the facts
    ``works_process_co2`` p, ``works_fuel_heat`` q and ``co2_factor_bituminous`` f; the rest as `carbon_ledger`.

    Examples
    --------
    >>> bought = bought_carbon(quicklime="950 kg")
    >>> print(bought.process, bought.fossil)
    750 kg 350 kg
    """
    sold = quicklime / oxide_in("quicklime")
    freight = freight_carbon.plain(sold, distance)
    facts_used = ("works_process_co2", "works_fuel_heat", "co2_factor_bituminous", "bought_lime_oxide")
    return CarbonLedger(
        process=sold * fact("works_process_co2"),
        fossil=sold * fact("works_fuel_heat") * fact("co2_factor_bituminous") + freight,
        biogenic=0.0,
        re_uptake=_taken_up(quicklime, carbonation),
        quicklime=quicklime,
        putty_volume=putty_from_quicklime.plain(quicklime, putty_density).putty_volume,
        basis=rests_on(*facts_used, *(("freight_co2",) if distance else ())),
    )


@edge
def carbon_bars(
    balance: MassBalance,
    fuels_burnt: tuple[FuelCarbon, ...],
    fuel_spread: Share = fact("fuel_spread"),
    carbonation: Share = fact("carbonation_share"),
    carbonation_low: Share = fact("carbonation_share").low,
    carbonation_high: Share = fact("carbonation_share").high,
) -> tuple[Bar, ...]:
    """Return what moves a burn's carbon dioxide most, in kilograms a kilogram of quicklime.

    Parameters
    ----------
    balance, fuels_burnt
        As for `carbon_ledger`.
    fuel_spread : Share
        How far the fuel may come out otherwise.
    carbonation, carbonation_low, carbonation_high : Share
        Share taken up again, with its range.

    Returns
    -------
    tuple of Bar
        Widest first, on process + fossil + biogenic − taken up again. Process has no bar: a
        kilogram of lime sets it by its chemistry alone.

    Raises
    ------
    InputError
        If the burn gave no lime.

    Notes
    -----
    y = (process + b Σ heat · factor − re_uptake)/quicklime, with the fuel burnt over what was planned b;
    each bar is y at the two ends of one input, the others in the middle.
    """
    own = carbon_ledger.plain(balance, fuels_burnt)
    heats: dict[str, float] = defaultdict(float)
    for one in fuels_burnt:
        heats[_factor_key(one.fuel)] += one.fuel_heat / GIGAJOULE
    burnt, back = "fuel burnt, over what was planned", "share taken up again"
    inputs = {
        burnt: span(burnt, 1.0, 1.0 - fuel_spread, 1.0 + fuel_spread),
        back: span(back, carbonation, carbonation_low, carbonation_high),
    }
    for key in heats:
        factor = fact(key)
        inputs[key] = Span(*(end * GIGAJOULE for end in (factor, factor.low, factor.high)))

    def answer(values: dict[str, float]) -> float:
        fuel = values[burnt] * sum(heat * values[key] for key, heat in heats.items())
        return (own.process + fuel - _taken_up(own.quicklime, values[back])) / own.quicklime

    named = {key: f"{key.removeprefix('co2_factor_')}: carbon dioxide of its heat [kg/GJ]" for key in heats}
    return tuple(replace(bar, name=named.get(bar.name, bar.name)) for bar in one_at_a_time(answer, inputs))
