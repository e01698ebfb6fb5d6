"""The whole design: fifteen decisions, each answered with its range, on one page."""

from __future__ import annotations

from limekit.balance import mass_balance
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.course.checks import PERCENT, Exercise, Slip
from limekit.course.ladder import ladder
from limekit.errors import InputError
from limekit.estimate import tens
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.kiln.ensemble import FiringRange, fire_range
from limekit.pictures.pages import Table
from limekit.pictures.progress import progress
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.stone.assessment import Assessment
from limekit.stone.overburn import overburn_class
from limekit.stone.signs import unburnt_allowed
from limekit.units import HOUR, MM, ZERO_CELSIUS

BREAKS = (
    "What is changed",
    "Hours",
    "Fuel",
    "Rawest stones burnt [%]",
    "May be dead-burnt [%]",
    "What held it back",
)
MEMBERS, WET = 15, 0.45
HEADINGS = ("Decision", "Answer", "How far it may be out, and what to do", "Lesson")
CARBON = (("process", "stone"), ("fossil", "fossil"), ("biogenic", "wood"), ("re_uptake", "taken back"))


def words(plan: Plan) -> str:
    """Say a whole plan in one sentence."""
    told, raw = plan.figures, 100 * (1 - plan.plain.firing.conversion)
    return (
        f"{told['stone'].words} of stone in a kiln {told['kiln_diameter'].words} across, fired for "
        f"{told['hours']} with {told['fuel'].words} of fuel ({told['fuel'].ends}), gives {told['quicklime'].words} of "
        f"quicklime and leaves {raw:z.0f} % of the carbonate raw."
    )


def table(plan: Plan) -> Table:
    """Set the fifteen decisions out as a table, the kiln fired with every stone that a trial leaves open."""
    worked = plan.plain
    with progress("Firing the kiln with every stone that the trial leaves open") as tell:
        ranged = fire_range.plain(worked.firing, worked.heard, MEMBERS, tell)
    at = {slug: str(one.number) for slug, one in ladder().items()}
    asked = (*_of_the_stone(worked), *_of_the_kiln(worked), *_of_the_fire(worked, ranged), *_of_the_lime(worked))
    return Table(HEADINGS, [(*said, " to ".join(at[slug] for slug in slugs.split())) for *said, slugs in asked])


def _of_the_stone(plan: Worked) -> tuple[tuple[str, ...], ...]:
    hardest = max(plan.firing.places, key=lambda place: place.overburn)
    trial, lively = ("none was burnt", "burn one; until then published stones speak"), plan.reactivity
    if plan.assessment is not None:
        pieces, fire = plan.assessment.comparisons, plan.assessment.gas_temperature
        through = sum(one.by_core is not None and one.by_core.conversion >= 1.0 for one in pieces)
        low, middle, high = (tens(level - ZERO_CELSIUS) for level in (fire.low, fire.median, fire.high))
        trial = (
            f"{through} of {len(pieces)} pieces right through",
            f"the fire stood at {middle} °C, {low} to {high}",
        )
    return (
        (
            "1 Use this stone?",
            plan.verdict.lime_class,
            "an indication by its carbonates; burn some first",
            "know_your_stone",
        ),
        ("2 Which lime is it?", str(plan.verdict), plan.verdict.keeping.words, "know_your_stone"),
        ("3 Was the trial fully burnt?", *trial, "your_trial_burn"),
        (
            "4 Is the lime lively?",
            lively.en_class if lively else "none was slaked",
            lively.words if lively else "slake a sample of it in the standard's test",
            "slake",
        ),
        (
            "5 Under- or over-burnt?",
            f"{overburn_class.plain(hardest.overburn)} at the most, where the {MM * hardest.size:.0f} mm stones of the "
            f"{hardest.part} third lie",
            "only the order is claimed; break and slake pieces from every place",
            "the_firing",
        ),
    )


def _of_the_kiln(plan: Worked) -> tuple[tuple[str, ...], ...]:
    told, design, keeping = figures(plan), plan.design, plan.putty.keeping
    largest = Assessment.largest_stone.plain(plan.heard, design.burning_time.middle, design.gas_temperature)
    wide, stone = design.kiln_diameter, told["stone"].words
    return (
        (
            "6 How much stone?",
            f"{stone} for {told['putty_volume'].words} of putty" if keeping.as_putty else stone,
            f"putty {told['putty_volume'].ends}" if keeping.as_putty else keeping.words,
            "first_kiln",
        ),
        (
            "7 Flare or shaft?",
            plan.kiln.kind,
            "a shaft pays where lime is wanted every day; for a batch, a flare kiln",
            "sizing",
        ),
        (
            "8 What size?",
            f"{told['kiln_diameter'].words} across, {told['kiln_height'].words} high inside",
            f"{wide.low:.2f} to {wide.high:.2f} m across by the rules",
            "sizing",
        ),
        (
            "9 The largest stone?",
            told["largest_stone"].words,
            f"in {design.burning_time.middle / HOUR:.0f} h of full heat a stone of {MM * largest.low:.0f} to "
            f"{MM * largest.high:.0f} mm burns through",
            "how_hot_how_long",
        ),
    )


def _of_the_fire(plan: Worked, ranged: FiringRange) -> tuple[tuple[str, ...], ...]:
    told, size, firing = figures(plan), plan.kiln, plan.firing
    finish = ranged.verdict
    if ranged.finish and firing.finish:
        by = "by what the trial leaves open of the stone" if plan.assessment else "by published stones, with no trial"
        finish = (
            f"{told['hours'].ends} by {plan.own_and}the kilns of others; {ranged.finish.low / HOUR:.0f} to "
            f"{ranged.finish.high / HOUR:.0f} h {by}"
        )
    slowest = next((limit for limit in firing.limits if limit.name == "draught"), None)
    sinking = plan.design.sinking
    return (
        (
            "10 Which fuel, how much?",
            f"{told['fuel'].words} of {fuels()[plan.fuel.kind].label}",
            f"{told['fuel'].ends} by {plan.own_and}the kilns of others; stack the upper figure",
            "fuel_and_air",
        ),
        (
            "11 How many hours, how many turns?",
            plan.people.words if firing.finish else firing.verdict,
            finish,
            "the_firing",
        ),
        (
            "12 Openings and draught?",
            f"{size.mouths} mouth of {MM * size.mouth_width:.0f} by {MM * size.mouth_height:.0f} mm, "
            f"{size.draw_eyes} eyes of {MM * size.draw_eye_size:.0f} mm, {told['chimney_height'].words} of chimney",
            str(slowest) if slowest else plan.design.draught.verdict,
            "draught",
        ),
        (
            "13 Stop, or keep firing?",
            f"stop when the charge has sunk {MM * sinking.low:.0f} to {MM * sinking.high:.0f} mm "
            "and a drawn piece slakes through",
            "flame, settlement and test piece together, never one alone",
            "burn_day",
        ),
    )


def _of_the_lime(plan: Worked) -> tuple[tuple[str, ...], ...]:
    told, keeping, lines = figures(plan), plan.putty.keeping, plan.ledger.lines
    carbon = ", ".join(f"{word} {lines[name]:.0f} kg" for name, word in CARBON)
    cooled = plan.cooling.cooling_time is not None
    return (
        (
            "14 Accept the batch?",
            f"if no more than {100 * unburnt_allowed():.0f} % of its carbonate is left raw; the model leaves "
            f"{100 * (1 - plan.firing.conversion):z.0f} %",
            "sort by hand, weigh the heaps; burn cores again",
            "draw_and_sort",
        ),
        (
            "15 Slake, store, date, use, cost, carbon?",
            f"{told['quicklime'].words} of quicklime to slake; carbon dioxide: {carbon}",
            "draw cold"
            + (f" after {told['cooling_time'].words} closed" if cooled else "")
            + ("; lime to water, never water to lime" if keeping.as_putty else f"; {keeping.way}, and no putty"),
            "slake money_and_carbon",
        ),
    )


def breaks(plan: Plan) -> Table:
    """Change one thing at a time in a plan, fire the kiln again, and set out what becomes of it.

    What cannot be built at all is refused in its own words.
    """
    worked, largest = plan.plain, plan.plain.kiln.largest_stone
    cases = {
        "as the record has it": {},
        "stone twice as large": {"largest_stone": 2 * largest},
        "stone half as large": {"largest_stone": largest / 2},
        f"wood of {100 * WET:.0f} % water": {"fuel_moisture": WET},
        "no chimney": {"chimney_height": 0.0},
    }
    rows = []
    with progress("Firing the kiln once for each change") as tell:
        for number, (name, changed) in enumerate(cases.items(), start=1):
            try:
                rows.append((name, *_came_to(worked.but(**changed) if changed else worked)))
            except InputError as fault:
                rows.append((name, "–", "–", "–", "–", f"{fault.asked}: {fault.got}; wanted {fault.wanted}"))
            tell(number / len(cases))
    return Table(BREAKS, rows)


def _came_to(plan: Worked) -> tuple[str, ...]:
    told, firing = figures(plan, "hours", "fuel"), plan.firing
    return (
        told["hours"].words if firing.finish else f"never; let out after {firing.firing_time / HOUR:.0f} h",
        told["fuel"].words,
        f"{100 * firing.rawest.conversion:.0f}",
        f"{100 * firing.overburnt_share:.0f}",
        next((limit.hit for limit in firing.limits if limit.name != "heat"), "–"),
    )


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
