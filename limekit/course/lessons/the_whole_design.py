"""The whole design: fifteen decisions, each answered with its range, on one page."""

from __future__ import annotations

from dataclasses import dataclass

from limekit.balance import mass_balance
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.course import project
from limekit.course.checks import PERCENT, Exercise, Slip
from limekit.course.ladder import ladder
from limekit.course.recorded import design_of, verdict_of
from limekit.edge import plain
from limekit.errors import InputError
from limekit.estimate import Estimate, tens
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.grading import StoneVerdict
from limekit.kiln.cooling import Cooling, cool_kiln
from limekit.kiln.design import KilnDesign
from limekit.kiln.ensemble import FiringRange, fire_range
from limekit.kiln.firing import Firing
from limekit.ledger.carbon import CarbonLedger, carbon_ledger, fuel_carbon
from limekit.lime.reactivity import Reactivity, read_reactivity
from limekit.pictures.pages import Page, Table
from limekit.pictures.progress import progress
from limekit.pictures.sheets import Chapter, design_sheet
from limekit.records.kiln_record import Record
from limekit.records.roster import people_to_watch
from limekit.records.slaking_log import SlakingLog
from limekit.stone.assessment import Assessment
from limekit.stone.overburn import overburn_class
from limekit.stone.signs import unburnt_allowed
from limekit.units import HOUR, LITRES, MM, ZERO_CELSIUS

BREAKS = (
    "What is changed",
    "Hours",
    "Fuel [kg]",
    "Rawest stones burnt [%]",
    "May be dead-burnt [%]",
    "What held it back",
)
MEMBERS, WET = 15, 0.45
HEADINGS = ("Decision", "Answer", "How far it may be out, and what to do", "Lesson")


@dataclass(frozen=True)
class Whole:
    """All that a record, a trial and a slaking log come to, in plain SI floats."""

    verdict: StoneVerdict
    assessment: Assessment
    reactivity: Reactivity
    largest: Estimate
    design: KilnDesign
    firing: Firing
    ranged: FiringRange
    cooling: Cooling
    carbon: CarbonLedger


def whole(record: Record, assessment: Assessment, log: SlakingLog) -> Whole:
    """Draw the kiln of a record up, fire it in the model, and follow its lime.

    Parameters
    ----------
    record : Record
    assessment : Assessment
        Of the trial, from `limekit.assess_trial`.
    log : SlakingLog
        Of a sample of lime in the standard's test, from `limekit.read_slaking_log`.

    Returns
    -------
    Whole
    """
    assessment, log = plain(assessment), plain(log)
    design = design_of(record, assessment)
    firing = design.firing
    with progress("Firing the kiln with every stone that the trial leaves open") as tell:
        ranged = fire_range.plain(firing, assessment, MEMBERS, tell)
    burnt = fuel_carbon.plain(design.fuel, firing.fuel_used, design.demand.lower_heating_value)
    return Whole(
        verdict_of(record),
        assessment,
        read_reactivity.plain(log.log_times, log.log_temperatures),
        Assessment.largest_stone.plain(assessment, design.burning_time.middle, design.gas_temperature),
        design,
        firing,
        ranged,
        cool_kiln.plain(firing),
        carbon_ledger.plain(design.balance, (burnt,)),
    )


def decisions(whole: Whole) -> tuple[tuple[str, str, str, str], ...]:
    """Return the fifteen decisions in words: what, the answer, its range and what to do, the lesson."""
    design, firing, fire = whole.design, whole.firing, whole.assessment.gas_temperature
    through = sum(one.by_core is not None and one.by_core.conversion >= 1.0 for one in whole.assessment.comparisons)
    hours, ranged, others = firing.firing_time / HOUR, whole.ranged, firing.hours
    finish = (
        f"{others.low / HOUR:.0f} to {others.high / HOUR:.0f} h by the kilns of others; {ranged.finish.low / HOUR:.0f} "
        f"to {ranged.finish.high / HOUR:.0f} h by what the trial leaves open of the stone"
        if ranged.finish and others
        else ranged.verdict
    )
    fuel, wood = fuels()[design.fuel].label, design.fuel_mass
    slowest = next((limit for limit in firing.limits if limit.name == "draught"), None)
    hardest = max(firing.places, key=lambda place: place.overburn)
    keeping = design.keeping
    litres, low, high = (f"{LITRES * getattr(design.putty_volume, end):.0f}" for end in ("middle", "low", "high"))
    putty = (f" for {litres} L of putty", f"putty {low} to {high} L") if keeping.as_putty else ("", keeping.words)
    carbon = ", ".join(
        f"{word} {whole.carbon.lines[name]:.0f} kg"
        for name, word in (
            ("process", "stone"),
            ("fossil", "fossil"),
            ("biogenic", "wood"),
            ("re_uptake", "taken back"),
        )
    )
    at = {slug: str(one.number) for slug, one in ladder().items()}
    return (
        (
            "1 Use this stone?",
            whole.verdict.lime_class,
            "an indication by its carbonates; burn some first",
            at["know_your_stone"],
        ),
        ("2 Which lime is it?", str(whole.verdict), keeping.words, at["know_your_stone"]),
        (
            "3 Was the trial fully burnt?",
            f"{through} of {len(whole.assessment.comparisons)} pieces right through",
            f"the fire stood at {tens(fire.median - ZERO_CELSIUS)} °C, {tens(fire.low - ZERO_CELSIUS)} to "
            f"{tens(fire.high - ZERO_CELSIUS)}",
            at["your_trial_burn"],
        ),
        ("4 Is the lime lively?", whole.reactivity.en_class, whole.reactivity.words, at["slake"]),
        (
            "5 Under- or over-burnt?",
            f"{overburn_class.plain(hardest.overburn)} at the most, where the {MM * hardest.size:.0f} mm stones of the "
            f"{hardest.part} third lie",
            "only the order is claimed; break and slake pieces from every place",
            at["the_firing"],
        ),
        (
            "6 How much stone?",
            f"{design.stone.middle:.0f} kg{putty[0]}",
            putty[1],
            at["first_kiln"],
        ),
        (
            "7 Flare or shaft?",
            design.size.kind,
            "a shaft pays where lime is wanted every day; for a batch, a flare kiln",
            at["sizing"],
        ),
        (
            "8 What size?",
            f"{design.kiln_diameter.middle:.2f} m across, {design.kiln_height.middle:.2f} m high inside",
            f"{design.kiln_diameter.low:.2f} to {design.kiln_diameter.high:.2f} m across by the rules",
            at["sizing"],
        ),
        (
            "9 The largest stone?",
            f"{MM * design.size.largest_stone:.0f} mm",
            f"in {design.burning_time.middle / HOUR:.0f} h of full heat a stone of {MM * whole.largest.low:.0f} to "
            f"{MM * whole.largest.high:.0f} mm burns through",
            at["how_hot_how_long"],
        ),
        (
            "10 Which fuel, how much?",
            f"{firing.fuel_used:.0f} kg of {fuel}",
            f"{wood.low:.0f} to {wood.high:.0f} kg by the kilns of others; stack the upper figure",
            at["fuel_and_air"],
        ),
        (
            "11 How many hours, how many turns?",
            f"{hours:.0f} h, {-(-firing.firing_time // fact('watch_time')):.0f} turns at the fire for "
            f"{people_to_watch.plain(firing.firing_time)} people at the least, two at a time",
            finish,
            at["the_firing"],
        ),
        (
            "12 Openings and draught?",
            f"{design.size.mouths} mouth of {MM * design.size.mouth_width:.0f} by "
            f"{MM * design.size.mouth_height:.0f} mm, {design.size.draw_eyes} eyes of "
            f"{MM * design.size.draw_eye_size:.0f} mm",
            str(slowest) if slowest else design.draught.verdict,
            at["draught"],
        ),
        (
            "13 Stop, or keep firing?",
            f"stop when the charge has sunk {MM * design.sinking.low:.0f} to {MM * design.sinking.high:.0f} mm "
            "and a drawn piece slakes through",
            "flame, settlement and test piece together, never one alone",
            at["burn_day"],
        ),
        (
            "14 Accept the batch?",
            f"if no more than {100 * unburnt_allowed():.0f} % of its carbonate is left raw; the model leaves "
            f"{100 * (1 - firing.conversion):z.0f} %",
            "sort by hand, weigh the heaps; burn cores again",
            at["draw_and_sort"],
        ),
        (
            "15 Slake, store, date, use, cost, carbon?",
            f"{firing.quicklime:.0f} kg of quicklime to slake; carbon dioxide: {carbon}",
            "draw cold"
            + (f" after {whole.cooling.cooling_time / HOUR:.0f} h closed" if whole.cooling.cooling_time else "")
            + ("; lime to water, never water to lime" if keeping.as_putty else f"; {keeping.way}, and no putty"),
            f"{at['slake']} to {at['money_and_carbon']}",
        ),
    )


def rule_and_fire(whole: Whole) -> tuple[tuple[str, str, str, str], ...]:
    """Return the plan's figures beside those of rules of thumb: what, to plan by, by rule, if they differ."""
    design, firing, cooled = whole.design, whole.firing, whole.cooling.cooling_time
    hours, cooling, fuel = design.rule_time, design.cooling_time, design.demand.fuel_mass
    return (
        (
            "hours of firing",
            f"{firing.firing_time / HOUR:.0f} h",
            f"{hours.middle / HOUR:.0f} h, {hours.low / HOUR:.0f} to {hours.high / HOUR:.0f}",
            "the rule asks only how long the largest stone lies in hot gas, not who feeds the fire",
        ),
        (
            "fuel",
            f"{firing.fuel_used:.0f} kg",
            f"{fuel.middle:.0f} kg, {fuel.low:.0f} to {fuel.high:.0f}",
            "stack the upper figure of the plan's range",
        ),
        (
            "cooling, closed",
            f"{cooled / HOUR:.0f} h to {whole.cooling.draw_temperature - ZERO_CELSIUS:.0f} °C"
            if cooled
            else "a month and more",
            f"{cooling.middle / HOUR:.0f} h, {cooling.low / HOUR:.0f} to {cooling.high / HOUR:.0f}",
            "the longer, and a thermometer in the charge; never the clock alone",
        ),
    )


def table(whole: Whole) -> Table:
    """Set the decisions out as a table."""
    return Table(HEADINGS, decisions(whole))


def breaks(record: Record, assessment: Assessment) -> Table:
    """Change one thing at a time in a record, fire the kiln again, and set out what becomes of it.

    Parameters
    ----------
    record : Record
    assessment : Assessment

    Returns
    -------
    Table
        With what cannot be built at all refused in its own words.
    """
    assessment = plain(assessment)
    largest, smallest = (plain(record.quantity(f"kiln.{one}_stone")) for one in ("largest", "smallest"))
    cases = (
        ("as the record has it", {}),
        ("stone twice as large", {"largest_stone": 2 * largest, "smallest_stone": 2 * smallest}),
        ("stone half as large", {"largest_stone": largest / 2, "smallest_stone": smallest / 2}),
        (f"wood of {100 * WET:.0f} % water", {"fuel_moisture": WET}),
        ("no chimney", {"chimney_height": 0.0}),
    )
    rows = []
    with progress("Firing the kiln once for each change") as tell:
        for number, (name, changed) in enumerate(cases, start=1):
            try:
                rows.append((name, *_came_to(design_of(record, assessment, **changed).firing)))
            except InputError as fault:
                rows.append((name, "–", "–", "–", "–", f"{fault.asked}: {fault.got}; wanted {fault.wanted}"))
            tell(number / len(cases))
    return Table(BREAKS, rows)


def _came_to(firing: Firing) -> tuple[str, ...]:
    hours, worst = f"{firing.firing_time / HOUR:.0f}", min(place.conversion for place in firing.places)
    return (
        hours if firing.finish else f"never; let out after {hours}",
        f"{firing.fuel_used:.0f}",
        f"{100 * worst:.0f}",
        f"{100 * firing.overburnt_share:.0f}",
        next((limit.hit for limit in firing.limits if limit.name != "heat"), "–"),
    )


def words(whole: Whole) -> str:
    """Say the whole design in one sentence."""
    firing, design = whole.firing, whole.design
    return (
        f"{design.stone.middle:.0f} kg of stone in a kiln {design.kiln_diameter.middle:.2f} m across, fired for "
        f"{firing.firing_time / HOUR:.0f} hours with {firing.fuel_used:.0f} kg of fuel, gives "
        f"{firing.quicklime:.0f} kg of quicklime and leaves {100 * (1 - firing.conversion):z.0f} % of "
        "the carbonate raw."
    )


def sheet(whole: Whole, own: project.Checklist) -> Page:
    """Set the whole design out on one page to print, with what of it is the learner's own."""
    budget = whole.firing.heat_budget
    heats = {name: value for name, value in vars(budget).items() if isinstance(value, float)}
    total = sum(heats.values())
    limits = tuple((limit.name, limit.hit, limit.lift) for limit in whole.firing.limits)
    chapters = (
        Chapter("The fifteen decisions", HEADINGS, decisions(whole)),
        Chapter(
            "Held against rules of thumb",
            ("What", "To plan by", "By rule of thumb", "If they differ"),
            rule_and_fire(whole),
        ),
        Chapter(
            "Where the fuel's heat went, as fired in the model",
            ("To", "Heat", "Share"),
            tuple(
                (name.replace("_", " "), f"{heat / 1e6:.0f} MJ", f"{100 * heat / total:.0f} %")
                for name, heat in heats.items()
            ),
        ),
        Chapter(f"Whose figures these are: {own.words}", project.HEADINGS, tuple(step.cells for step in own.steps)),
        Chapter(
            "What held the firing back, and what would lift it", ("Limit", "What was hit", "What lifts it"), limits
        ),
    )
    return Page(design_sheet(whole.design, chapters), f"The whole design: {words(whole)}")


stone_to_lime = Exercise(
    question=(
        "Of a stone that is 95 % carbonate, 90 % of the carbonate burns. What share of the stone's weight is drawn "
        "as quicklime?"
    ),
    answer=lambda: _drawn(0.95, 0.90),
    tolerance=0.01,
    slips=(
        Slip("that forgets the carbon dioxide: nearly half the weight goes up", lambda _: 0.95 * 0.90),
        Slip("that takes all of the carbonate as burnt", lambda _: _drawn(0.95, 1.0)),
        Slip("that takes the stone as pure", lambda _: _drawn(1.0, 0.90)),
        PERCENT,
    ),
    hint="limekit.mass_balance(stone='1 kg', calcium_carbonate=0.95, conversion=0.90).quicklime",
)

heat_of_a_charge = Exercise(
    question=(
        "A kiln turns 15 % of its fuel's heat into dissociation. How many kilos of wood at 15.6 MJ/kg does a kilo of "
        "quicklime then cost?"
    ),
    answer=lambda: f"{fact('dissociation_heat_at_25') / CALCIUM_OXIDE / (0.15 * 15.6e6)} kg",
    unit="kg",
    tolerance=0.03,
    slips=(
        Slip("that is the wood if none of its heat were lost", lambda right: 0.15 * right),
        Slip("that is for a kilo of stone, not of quicklime", lambda right: right * CALCIUM_OXIDE / CALCIUM_CARBONATE),
    ),
    hint="The heat of dissociation of a kilo of CaO, over the heat that arrives from a kilo of wood.",
)


LIME = 400.0

gone_up = Exercise(
    question=(
        f"A firing gave {LIME:.0f} kg of quicklime from a pure stone, burnt right through. How much carbon dioxide did "
        "the stone alone send up, the wood not counted?"
    ),
    answer=lambda: f"{LIME * (CALCIUM_CARBONATE / CALCIUM_OXIDE - 1)} kg",
    unit="kg",
    slips=(
        Slip("that is what the stone weighed; part of it is still there as lime", lambda right: LIME + right),
        Slip(
            "the stone loses that share of its own weight, and the lime weighs little more than half of the stone",
            lambda _: LIME * (1 - CALCIUM_OXIDE / CALCIUM_CARBONATE),
        ),
        Slip("that is the lime you would get from so much stone", lambda _: LIME * CALCIUM_OXIDE / CALCIUM_CARBONATE),
    ),
    hint="limekit.mass_balance(stone='1 kg', calcium_carbonate=1, conversion=1) tells both; take them in proportion.",
)


def _drawn(calcium_carbonate: float, conversion: float) -> float:
    return mass_balance.plain(1.0, calcium_carbonate, conversion).quicklime
