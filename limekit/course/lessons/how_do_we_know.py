"""How do we know: the kit held against published figures, row by row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import get_args

from limekit.chemistry import ATMOSPHERE, dissociation_temperature
from limekit.course import published
from limekit.course.checks import PERCENT, THE_REST, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.published import Case
from limekit.facts import TAGS, fact, rivals, table
from limekit.fire.bed import Laid
from limekit.frames import frame
from limekit.kiln.left_out import SIZES, judge, left_out
from limekit.limestone import Stone
from limekit.pictures import agreement
from limekit.pictures.real_kilns import Among, among_others, real_kilns
from limekit.units import ZERO_CELSIUS

NO_TREND = 0.07  # power of the stone, within which a forecast grows as real firings do
SIZES_TOLD = dict(zip(SIZES, ("below a tonne", "from 1 to 5 t", "above 5 t"), strict=True))
TOPICS = {topic.replace("_", " "): topic for topic in published.topics()}


@dataclass(frozen=True)
class Held:
    """Cases of one topic with what the kit makes of each."""

    cases: tuple[Case, ...]
    answers: tuple[float, ...]

    def of(self, kind: str) -> list[int]:
        """Places of the cases of one kind."""
        return [place for place, case in enumerate(self.cases) if case.kind == kind]

    def holding(self, places: Iterable[int]) -> int:
        """How many of these rows are true of the kit as it is."""
        return sum(self.cases[place].holds(self.answers[place]) for place in places)


def hold(topic: str) -> Held:
    """Run a topic's cases."""
    found = tuple(published.cases(topic))
    return Held(found, tuple(case.run() for case in found))


def _words(held: Held) -> str:
    printed, missed = held.of(published.PUBLISHED), held.of(published.MISS)
    weighty = sum(held.cases[place].weighs for place in printed)
    said = (
        f"Of {len(printed) + len(missed)} figures that others published the kit agrees with {held.holding(printed)}, "
        f"{weighty} of them in a band narrow enough to say something, and is known to miss {len(missed)}"
        if printed or missed
        else "Nothing that others published is held against the kit here"
    )
    besides = {published.PRACTICE: "of practice", published.OWN: "of the kit's own arithmetic"}
    counted = [f"{len(held.of(kind))} {what}" for kind, what in besides.items() if held.of(kind)]
    return said + (f"; besides, and not counted, {' and '.join(counted)}." if counted else ".")


def _table(held: Held):
    rows = [
        (
            case.name,
            case.kind,
            f"{answer:.4g} {case.unit}".strip(),
            f"{case.expected:g} ({case.low:g} to {case.high:g})",
            case.band_reason,
            "; ".join(filter(None, (case.basis, case.place))),
            case.note,
        )
        for case, answer in zip(held.cases, held.answers, strict=True)
    ]
    return frame(
        rows, columns=["case", "kind", "the kit", "the source and its band", "why this band", "source", "note"]
    )


def agreement_explorer() -> Explorer:
    """Choose a topic; see the kit's answers over the published ones."""
    return Explorer(
        [Choice("topic", TOPICS, start="design", label="what is checked")],
        model=hold,
        picture=lambda held: agreement.agreement(
            [case.name for case in held.cases],
            held.answers,
            [(case.low, case.expected, case.high) for case in held.cases],
            [case.basis for case in held.cases],
            {kind: held.of(kind) for kind in published.KINDS},
        ),
        words=_words,
        table=_table,
    )


def real_kilns_explorer() -> Explorer:
    """Slide a charge and what is known of it; see its forecast among real firings."""

    def model(stone: float, largest_stone: float, stoking_rate: float, laid: str) -> Among:
        told = {"largest_stone": largest_stone, "stoking_rate": stoking_rate or None, "laid": laid or None}
        return among_others(Stone.plain(stone), **told)

    return Explorer(
        [
            Slider("stone", start="500 kg", low="100 kg", high="40000 kg", step=100),
            Slider("largest_stone", start="100 mm", low="60 mm", high="200 mm"),
            Slider("stoking_rate", start="0 kg/h", low="0 kg/h", high="300 kg/h", step=5, label="fuel fed, if known"),
            Choice("laid", {"not known": "", **{word: word for word in get_args(Laid)}}, label="how the charge lies"),
        ],
        model=model,
        picture=real_kilns,
        words=lambda found: found.yours.verdict,
        table=lambda found: frame(
            [(part.name, f"{part.hours:.2f}", f"{part.fuel:.2f}") for part in found.yours.parts],
            columns=["what nobody knows", "factor on hours either way", "factor on wood either way"],
        ),
    )


def _did(figure: str, words: str) -> str:
    ours, line = judge(left_out(), figure), judge(left_out(), figure, f"{figure}_line")
    better = "does better" if ours.beats(line) else "does no better"
    sizes = ", ".join(f"{ratio:.2f} {SIZES_TOLD[size]}" for size, ratio in ours.ratios.items())
    return (
        f"- **{words}**: of {ours.kilns} kilns the nine-in-ten range held {100 * ours.coverage:.0f} %. In the middle "
        f"the forecast is {sizes} of what was. Two times in three it is out by a factor of {ours.sigma:.2f} or "
        f"less, and the plain line by {line.sigma:.2f}: the model {better}.{_trend(ours.slope)}"
    )


def _trend(slope: float) -> str:
    """Say of a forecast by how much it grows with the stone otherwise than real firings do; nothing if hardly."""
    if abs(slope) <= NO_TREND:
        return ""
    factor, way = 10.0 ** abs(slope), "more" if slope > 0.0 else "less"
    return f" From a charge to one of ten times the stone it grows by a factor of {factor:.2f} {way} than real ones do."


def how_forecasts_did() -> str:
    """Say how forecasts did of kilns that had no say in them, figure by figure."""
    fed = judge(left_out(), "hours", "hours_fed")
    known = f"- **hours where the feeding is known**: a factor of {fed.sigma:.2f} or less, of {fed.kilns} kilns."
    return "\n".join((_did("hours", "hours"), known, _did("fuel", "wood")))


def tally():
    """Count the cases by kind, and the published ones by how wide a band they leave."""
    return frame(
        [(what, sum(map(counts, published.cases()))) for what, counts in published.COUNTED.items()],
        columns=["what is held against the kit", "cases"],
    ).set_index("what is held against the kit")


def known_how() -> str:
    """Say how many of the kit's facts were read, remembered, are practice, or were computed."""
    facts = [one for variants in table().values() for one in variants]
    counted = Counter(one.tag for one in facts)
    return f"Of the kit's {len(facts)} facts " + "; ".join(f"{counted[tag]} are {said}" for tag, said in TAGS.items())


def _spread(key: str) -> float:
    known = fact(key)
    return (known.high - known.low) / 2 / known


def _beside(end: str) -> float:
    known = fact("lime_conductivity")
    return abs(getattr(known, end) - known) / known


widest_of_two = Exercise(
    question=(
        "The lime shell's conductivity is known from memory, with a range. How far is it out either way, as a share "
        "of its value? Print limekit.fact('lime_conductivity').low and .high to see the range."
    ),
    answer=lambda: _spread("lime_conductivity"),
    tolerance=0.03,
    slips=(
        Slip("that is the whole width of the range; either way is half of it", lambda right: 2 * right),
        Slip("that is how far it may lie above alone; take the whole width and halve it", lambda _: _beside("high")),
        Slip("that is how far it may lie below alone; take the whole width and halve it", lambda _: _beside("low")),
        Slip("that is in the fact's own unit; divide by its value", lambda right: right * fact("lime_conductivity")),
        PERCENT,
        THE_REST,
        UPSIDE_DOWN,
    ),
    hint="Half the width of the range, over the value.",
)

rivals_apart = Exercise(
    question=(
        "limekit.dissociation_temperature takes a dissociation_source. By how many degrees do the three published "
        "curves differ at most, in gas that is all carbon dioxide?"
    ),
    answer=lambda: f"{max(_curves()) - min(_curves())} delta_degC",
    unit="delta_degC",
    tolerance=0.06,
    shown=".1f",
    slips=(
        Slip("that is a temperature, not a difference", lambda _: _curves()[0] - ZERO_CELSIUS),
        Slip(
            "that is from the kit's own curve to the highest; the lowest lies below it",
            lambda _: max(_curves()) - _curves()[0],
        ),
        Slip(
            "that is from the kit's own curve to the lowest; the highest lies above it",
            lambda _: _curves()[0] - min(_curves()),
        ),
        Slip("that is how far out either way; the whole distance is asked for", lambda right: right / 2),
    ),
    hint="Ask for all three at co2_pressure='1 atm' and subtract the lowest from the highest.",
)


def _curves() -> list[float]:
    return [dissociation_temperature.plain(ATMOSPHERE, one.variant) for one in rivals("dissociation_slope")]


DECISIONS, HOLDS = 15, 0.9

all_of_them_right = Exercise(
    question=(
        f"A design rests on {DECISIONS} figures, each with a range that holds {10 * HOLDS:.0f} times in 10, and none "
        "has to do with another. What is the chance that all the ranges hold?"
    ),
    answer=lambda: HOLDS**DECISIONS,
    tolerance=0.03,
    shown=".2f",
    slips=(
        Slip("that is the chance of one; they must all hold", lambda _: HOLDS),
        PERCENT,
        Slip("that is the chance that at least one fails", lambda right: 1.0 - right),
        Slip(
            "that is how many will fail, as a rule; the chance that none does is asked for",
            lambda _: DECISIONS * (1.0 - HOLDS),
        ),
        Slip("that is how many will hold, as a rule", lambda _: DECISIONS * HOLDS),
        Slip("that is the chance that all of them fail", lambda _: (1.0 - HOLDS) ** DECISIONS),
        Slip("chances that must all come true are multiplied, not divided among them", lambda _: HOLDS / DECISIONS),
    ),
    hint="For two of them it is the chance of one, times the chance of one.",
)
