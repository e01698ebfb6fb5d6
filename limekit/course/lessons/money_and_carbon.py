"""Money and carbon: what a litre of your own putty costs, beside lime that is bought."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.course.checks import OVER_1000, TIMES_1000, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Choice, Slider, fuel_choice
from limekit.course.explorer import Explorer
from limekit.edge import plain
from limekit.estimate import Span, ranged, shown
from limekit.facts import fact
from limekit.fire.fuel import lower_heating_value
from limekit.frames import frame
from limekit.ledger.bought import oxide_in
from limekit.ledger.carbon import CarbonLedger, bought_carbon, carbon_bars, carbon_ledger, fuel_carbon
from limekit.ledger.lines import CostLine, cost_line, kiln_line, work_line
from limekit.ledger.money import BreakEven, CostSheet, break_even, cost_sheet
from limekit.ledger.ranges import Bar, around
from limekit.pictures import ledger as pictures
from limekit.plan.plan import Plan
from limekit.units import HOUR, LITRES, TONNE

BAG = 25.0
EXAMPLES_STONE = 800.0  # kg, the charge that the invented prices were written for
WALL_POWER = 2.0 / 3.0  # a wall grows as the face of what it holds


@dataclass(frozen=True)
class Costed:
    """A burn's cost sheet, and bought lime of the same CaO beside it."""

    sheet: CostSheet
    beside: BreakEven
    bought_as: str
    wage: float


def beside_example(plan: Plan) -> tuple[float, float]:
    """Return how much more than the example's a plan's burn is: in stone, and in wall to hold it.

    Work goes with the stone and bricks with the wall: a guess, until they have been counted.
    """
    times = plan.plain.stone.mass / EXAMPLES_STONE
    return times, times**WALL_POWER


def wood_line(plan: Plan, fuel_price: float) -> CostLine:
    """Return the line of a plan's fuel, with the range its mass has, at a price a tonne, brought to the kiln."""
    mass = plan.plain.forecast.fuel
    return cost_line.plain("fuel", *(fuel_price * end / TONNE for end in (mass.middle, mass.low, mass.high)))


def cost_explorer(plan: Plan, others: Sequence[CostLine], currency: str = "") -> Explorer:
    """Slide prices, hours and the kiln's life; see a plan's burn beside bought lime, and what matters most.

    The lines of `others` stay as they are; the currency may have any name. It starts with a small wage, so that hours
    count; the sentence says which.
    """
    times, walls = beside_example(plan)
    worked, paid = 60.0 * times, 1200.0 * walls
    others = plain(tuple(others))
    putty, lime = plan.plain.putty.putty_volume, plan.plain.lime.quicklime
    short = 1.0 - putty.low / putty.middle
    longer, fewer = fact("work_spread"), fact("lasting_spread")

    def reckon(
        fuel_price: float, work: float, wage: float, outlay: float, burns: float, bought_as: str, price: float
    ) -> Costed:
        lines = (
            *others,
            wood_line(plan, fuel_price),
            work_line.plain(work, wage, (1.0 - longer) * work, (1.0 + longer) * work),
            kiln_line.plain(outlay, burns, max(1, math.floor((1 - fewer) * burns)), math.floor((1 + fewer) * burns)),
        )
        sheet = cost_sheet.plain(lines, lime.middle, putty.middle, short, currency)
        return Costed(sheet, break_even.plain(sheet, price, BAG, bought_as), bought_as, wage)

    return Explorer(
        [
            Slider("fuel_price"),
            Slider("work", start=f"{worked} h", high=f"{2.0 * worked} h", label="hours of work, all people together"),
            Slider("wage", start=5),
            Slider("outlay", start=paid, high=4.0 * paid),
            Slider("burns", start=12),
            Choice("bought_as", ("quicklime", "hydrate", "putty"), label="bought as"),
            Slider("price", start=18, low=2, high=60, step=0.5, label=f"price of {BAG:.0f} kg of it"),
        ],
        model=reckon,
        picture=lambda costed: pictures.costs(costed.sheet, costed.beside),
        words=_words,
        table=_table,
        presets={
            "a pastime": {"wage": 0, "burns": 12, "bought_as": "quicklime"},
            "a living": {"wage": 18, "burns": 12, "bought_as": "quicklime"},
            "a kiln used once": {"wage": 0, "burns": 1, "bought_as": "quicklime"},
            "hydrate at the price of quicklime": {"wage": 0, "burns": 12, "bought_as": "hydrate"},
        },
    )


def _words(costed: Costed) -> str:
    sheet, beside = costed.sheet, costed.beside
    money = f" {sheet.currency}".rstrip()
    said = (
        f"With an hour of work at {shown(costed.wage)}{money}, a burn costs "
        f"{ranged(sheet.total, named=money)}, a litre of putty {ranged(sheet.per_litre, digits=2, named=money)}; the "
        f"same lime bought as {costed.bought_as} costs {shown(beside.bought)}{money}, so the burn "
        f"{_saves(beside.saved, money)}."
    )
    if beside.hourly:
        verb = "earns" if beside.hourly.middle >= 0 else "costs another"
        said += f" An hour of your work {verb} {shown(abs(beside.hourly.middle), 2)}{money}."
    if sheet.bars and sheet.bars[0].swing > 0:
        said += f" What matters most to the litre is {sheet.bars[0].name}."
    return said


def paid_back(beside: BreakEven) -> str:
    """Say in words after how many burns a kiln has paid for itself."""
    burns = plain(beside).burns
    best, worst = (math.ceil(end) if math.isfinite(end) else None for end in (burns.low, burns.high))
    if best is None:
        return "no number of burns pays the kiln back"
    if math.isinf(burns.middle):
        return (
            f"as it stands no number of burns pays the kiln back; if every doubtful figure fell out well, {best} would"
        )
    late = "never" if worst is None else f"{worst}"
    return f"{math.ceil(burns.middle)} burns pay the kiln back; it may be {best}, and it may be {late}"


def _saves(saved: Span, money: str) -> str:
    word = "saves" if saved.middle >= 0 else "loses"
    doubt = ", though it may fall out the other way" if saved.low < 0 < saved.high else ""
    return f"{word} {shown(abs(saved.middle), 2)}{money}{doubt}"


def _table(costed: Costed):
    sheet = costed.sheet
    litres = LITRES * sheet.putty_volume
    lines = [(line.name, line.work.middle / HOUR or "–", line.amount) for line in sheet.lines]
    lines.append(("the burn", sheet.work.middle / HOUR, sheet.total))
    rows = [(*line, amount.middle, f"{amount.low:.4g} to {amount.high:.4g}") for *line, amount in lines]
    money = sheet.currency or "money"
    table = frame(rows, columns=["line", "hours", money, f"{money}, may be"])
    table[f"{money} a litre"] = table[money] / litres
    return table


@dataclass(frozen=True)
class Counted:
    """The four lines of a burn and of bought lime, with what moves the first."""

    own: CarbonLedger
    bought: CarbonLedger
    bars: dict[bool, tuple[Bar, ...]]

    def net(self, ledger: CarbonLedger, regrown: bool) -> float:
        """Return what four lines come to, a kilogram of quicklime; regrown wood does not count."""
        lines = ledger.per_kilogram
        return lines["process"] + lines["fossil"] - lines["re_uptake"] + (0.0 if regrown else lines["biogenic"])

    def sums(self, regrown: bool) -> tuple[Span, Span]:
        """Return own and bought, with a range where the kit knows one."""
        bought = self.net(self.bought, regrown)
        return around(self.net(self.own, regrown), self.bars[regrown]), Span(bought, bought, bought)


def carbon_explorer(plan: Plan) -> Explorer:
    """Slide a plan's fuel, the kiln, the wall and the road; see four lines of carbon dioxide, own and bought."""
    design = plan.plain.design
    balance, heat = design.balance, design.demand.dissociation_heat
    own_fuel, own_value = design.fuel, design.demand.lower_heating_value
    gained = heat / (plan.plain.fuel_fed * own_value)
    spread = fact("flare_efficiency") / fact("flare_efficiency").low - 1.0
    known = fact("carbonation_share")
    half, mixed = known.high - known, fact("carbonation_share", "mixed_mortar")

    def count(fuel: str, efficiency: float, carbonation: float, distance: float) -> Counted:
        heating_value = own_value if fuel == own_fuel else lower_heating_value.plain(fuel)
        burnt = (fuel_carbon.plain(fuel, heat / efficiency / heating_value, heating_value),)
        wall = carbonation, max(0.0, carbonation - half), min(1.0, carbonation + half)
        return Counted(
            carbon_ledger.plain(balance, burnt, carbonation=carbonation),
            bought_carbon.plain(balance.quicklime, distance, carbonation),
            {
                False: carbon_bars.plain(balance, burnt, spread, *wall),
                True: carbon_bars.plain(balance, tuple(one for one in burnt if one.fossil), spread, *wall),
            },
        )

    return Explorer(
        [
            fuel_choice(own_fuel),
            Slider("efficiency", start=gained, high=max(0.5, gained)),
            Slider("carbonation", step=0.01),
            Slider("distance", start="300 km", label="bought lime comes by lorry"),
            Choice("regrown", {"grows again": True, "does not": False}, looks=True, label="the forest it came from"),
        ],
        model=count,
        picture=lambda counted, regrown: pictures.carbon(
            counted.own, counted.bought, counted.sums(regrown), counted.bars[regrown]
        ),
        words=_carbon_words,
        table=_carbon_table,
        presets={
            "wood from a coppice": {"fuel": "oak", "regrown": True, "carbonation": known},
            "wood from a felled forest": {"fuel": "oak", "regrown": False, "carbonation": known},
            "coke": {"fuel": "coke", "regrown": True, "carbonation": known},
            "a mortar with cement in it": {"fuel": "oak", "regrown": True, "carbonation": mixed},
        },
    )


def _carbon_words(counted: Counted, regrown: bool) -> str:
    own, sums = counted.own.per_kilogram, counted.sums(regrown)
    wood = "left out because it grows again" if regrown else "counted because it does not grow again"
    return (
        f"A kilogram of your own quicklime sends up {own['process']:.2f} kg from the stone, {own['fossil']:.2f} kg "
        f"fossil and {own['biogenic']:.2f} kg from wood, and the wall takes {own['re_uptake']:.2f} kg back; with the "
        f"wood {wood}, that comes to {sums[0].middle:.2f} kg ({sums[0].low:.2f} to {sums[0].high:.2f}), and bought "
        f"lime to {sums[1].middle:.2f} kg."
    )


def _carbon_table(counted: Counted):
    own, bought = counted.own, counted.bought
    columns = (own.lines, own.per_kilogram, own.per_volume, bought.lines, bought.per_kilogram)
    rows = [(name, *(column[key] for column in columns)) for key, (name, *_) in pictures.CARBON.items()]
    headings = ["line", "own, the burn [kg]", "own [kg/kg]", "own [g/L of putty]", "bought [kg]", "bought [kg/kg]"]
    return frame(rows, columns=headings)


PAID, OUTLAY, BURNS, GIVEN = 240.0, 1200.0, 12, 800.0


def _a_litre(burns: float) -> float:
    lines = (cost_line.plain("wood and stone", PAID), kiln_line.plain(OUTLAY, burns))
    return cost_sheet.plain(lines, GIVEN, GIVEN / LITRES).per_litre.middle


cost_of_a_litre = Exercise(
    question=(
        f"Wood, stone and carting for a burn come to {PAID:.0f}; the kiln cost {OUTLAY:.0f} and lasts {BURNS} burns; "
        f"each gives {GIVEN:.0f} L of putty you can use. What does a litre cost, in the same money?"
    ),
    answer=lambda: _a_litre(BURNS),
    slips=(
        Slip("you paid the whole kiln with one burn", lambda _: _a_litre(1)),
        Slip("you had the kiln for nothing", lambda _: PAID / GIVEN),
        Slip("that is what a burn costs; share it over its litres", lambda right: right * GIVEN),
        UPSIDE_DOWN,
    ),
    hint="A burn carries its own wood and stone and its share of the kiln.",
)

QUICKLIME = 100.0

hydrate_for_quicklime = Exercise(
    question=(
        f"A recipe wants {QUICKLIME:.0f} kg of quicklime, and the merchant has only bagged hydrate. How much of it "
        "holds the same lime?"
    ),
    answer=lambda: f"{QUICKLIME * oxide_in('quicklime') / oxide_in('hydrate')} kg",
    unit="kg",
    slips=(
        Slip("a kilogram of hydrate is a quarter water; you need more of it", lambda _: QUICKLIME),
        Slip("it stands upside down: hydrate is the weaker, so you need more", lambda right: QUICKLIME**2 / right),
        TIMES_1000,
        OVER_1000,
    ),
    hint="limekit.mass_balance tells how much water quicklime binds; hydrate weighs that much more.",
)

TAKEN = 400.0

taken_up_again = Exercise(
    question=(
        f"A burn gave {TAKEN:.0f} kg of quicklime, all of it laid in pure lime mortar, of which "
        f"{100 * fact('carbonation_share'):.0f} % turns back to limestone over the years. How much carbon dioxide does "
        "the wall take up again?"
    ),
    answer=lambda: f"{bought_carbon.plain(TAKEN).re_uptake} kg",
    unit="kg",
    slips=(
        Slip(
            "that is all the stone gave off; not all of it comes back", lambda right: right / fact("carbonation_share")
        ),
        Slip(
            "that is the share of the quicklime; carbon dioxide weighs less than the lime it left",
            lambda _: TAKEN * fact("carbonation_share"),
        ),
        Slip(
            "you took its share of limestone; a kilogram of quicklime takes up more than that",
            lambda right: right * CALCIUM_OXIDE / CALCIUM_CARBONATE,
        ),
        TIMES_1000,
    ),
    hint="Quicklime takes up what it lost in the fire, less the share that never hardens.",
)
