"""Know your stone: what a stone is made of, and what lime it would give."""

from __future__ import annotations

import operator
from dataclasses import dataclass, replace

from limekit import chemistry
from limekit.balance import MassBalance, mass_balance
from limekit.course.checks import PERCENT, THE_REST, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.frames import frame
from limekit.grading import StoneVerdict, judge_stone
from limekit.limestone import MADE_OF, StoneKind, stone_kinds
from limekit.pictures import stone as pictures
from limekit.plan.plan import Plan


@dataclass(frozen=True)
class Judged:
    """A kilogram of a stone burnt right through, and the lime it gives."""

    composition: chemistry.Composition
    balance: MassBalance
    verdict: StoneVerdict
    kind: StoneKind | None = None


def judge(
    calcium_carbonate: float, magnesium_carbonate: float, stone_moisture: float, clay: float | None = None
) -> Judged:
    """Burn a kilogram of stone right through on paper (shares of the dry stone; moisture on the wet mass).

    `clay` is what an analysis found; more than the carbonates leave room for is not believed.
    """
    if clay is not None:
        clay = min(clay, chemistry.inert.plain(calcium_carbonate, magnesium_carbonate))
    return Judged(
        chemistry.composition.plain(calcium_carbonate, magnesium_carbonate, stone_moisture),
        mass_balance.plain(
            1.0, calcium_carbonate, 1.0, magnesium_carbonate=magnesium_carbonate, stone_moisture=stone_moisture
        ),
        judge_stone.plain(calcium_carbonate, magnesium_carbonate, clay),
    )


def _words(judged: Judged) -> str:
    balance, kind = judged.balance, judged.kind
    expected = f" {kind.name.capitalize()}: {kind.in_the_fire} {kind.slaking}" if kind else ""
    return (
        f"A hundred kilos of this stone, burnt right through, leave {100 * balance.drawn:.0f} kg to draw, of which "
        f"{100 * balance.quicklime:.0f} kg is quicklime: {judged.verdict}. {judged.verdict.keeping.words}{expected}"
    )


def _table(judged: Judged):
    balance = judged.balance
    parts = {
        "quicklime (CaO)": balance.quicklime,
        "magnesia (MgO)": balance.magnesia,
        "clay and other inert": balance.inert_mass,
        "carbon dioxide, gone": balance.carbon_dioxide,
        "steam, gone": balance.water_driven_off,
    }
    return frame([(name, 100 * mass) for name, mass in parts.items()], columns=["part", "kg from 100 kg of stone"])


def stone_explorer(plan: Plan) -> Explorer:
    """Choose the kind of stone, slide its make-up; see what it becomes, what lime that is and what to expect of it."""
    known, recorded = plan.plain.decided, plan.record.stone_kind
    as_recorded = {name: known.get(name) for name in (*MADE_OF, "clay")}

    def model(stone_kind: str, **moved: float) -> Judged:
        kind = stone_kinds().get(stone_kind)
        made = as_recorded if kind is recorded else {name: kind.figures[name] for name in MADE_OF}
        return replace(judge(**(made | moved)), kind=kind)

    kinds = ({} if recorded else {"as in your record": ""}) | {name: name for name in stone_kinds()}
    return Explorer(
        [
            Choice("stone_kind", kinds, recorded and recorded.name, label="kind of stone"),
            *(Slider(name, start=known.get(name)) for name in MADE_OF),
        ],
        model=model,
        picture=lambda judged: pictures.burnt_through(judged.balance),
        words=_words,
        table=_table,
        follows={name: operator.attrgetter(f"composition.{name}") for name in MADE_OF},
        keeps=_kept,
    )


def _kept(judged: Judged) -> dict:
    made = {name: getattr(judged.composition, name) for name in MADE_OF}
    return {"stone": made | ({"stone_kind": judged.kind.name} if judged.kind else {})}


CART, WATER, CHALK = 1000.0, 0.15, 0.96


def _lime_of(stone: float, stone_moisture: float = 0.0, carbonate: float = CHALK) -> float:
    return mass_balance.plain(stone, carbonate, 1.0, stone_moisture=stone_moisture).quicklime


lime_off_the_cart = Exercise(
    question=(
        f"{CART:.0f} kg of chalk come off the cart, and {100 * WATER:.0f} % of that is water. The dry stone is "
        f"{100 * CHALK:.0f} % calcium carbonate, the rest flint. How much quicklime can it give?"
    ),
    answer=lambda: f"{_lime_of(CART, WATER)} kg",
    unit="kg",
    tolerance=0.008,
    shown=".0f",
    slips=(
        Slip("you burnt the water as if it were stone", lambda _: _lime_of(CART)),
        Slip(
            "you took the water as a share of the dry stone: it is a share of what lay on the cart",
            lambda _: _lime_of(CART / (1.0 + WATER)),
        ),
        Slip("you burnt the flint as if it were carbonate", lambda _: _lime_of(CART, WATER, 1.0)),
        Slip("that is what you draw, flint and all", lambda right: right + CART * (1.0 - WATER) * (1.0 - CHALK)),
        Slip("that is the carbonate; nearly half of it goes up as gas", lambda _: CART * (1.0 - WATER) * CHALK),
        Slip(
            "that is the gas, not the lime",
            lambda _: mass_balance.plain(CART, CHALK, 1.0, stone_moisture=WATER).carbon_dioxide,
        ),
    ),
    hint="Slide the three shares above and read the sentence, which speaks of a hundred kilos.",
)

WET, DRY, BURNT = (mass / 1000.0 for mass in (512.0, 500.0, 286.0))
SAMPLE = (
    f"A sample weighs {1000 * WET:.0f} g as it came, {1000 * DRY:.0f} g dried in the oven and {1000 * BURNT:.0f} g "
    "burnt right through."
)

loss_of_a_sample = Exercise(
    question=f"{SAMPLE} What is its loss on ignition, as a share?",
    answer=lambda: chemistry.loss_from_weights.plain(WET, DRY, BURNT).loss_on_ignition,
    tolerance=0.003,
    slips=(
        Slip("you counted the moisture as carbonate: start from the dry weight", lambda _: 1.0 - BURNT / WET),
        Slip("you divided by what is left: the loss is a share of the dry stone", lambda _: (DRY - BURNT) / BURNT),
        PERCENT,
        THE_REST,
    ),
    hint="The loss is what left the dry stone, over the dry stone.",
)

carbonate_of_a_sample = Exercise(
    question="How much of that dry stone is calcium carbonate, as a share, if it holds no magnesium?",
    answer=lambda: (
        chemistry.composition_from_loss.plain(
            chemistry.loss_from_weights.plain(WET, DRY, BURNT).loss_on_ignition
        ).calcium_carbonate
    ),
    tolerance=0.005,
    slips=(
        Slip(
            "that is the loss itself: carbonate is more than what it loses",
            lambda _: chemistry.loss_from_weights.plain(WET, DRY, BURNT).loss_on_ignition,
        ),
        PERCENT,
        THE_REST,
    ),
    hint="limekit.composition_from_loss(loss_on_ignition=...) does the sum, or divide by what pure stone loses.",
)
