"""Every case of data/published: the kit's answer is what its row says, and every row is fit to be shown."""

import collections
import dataclasses
import re
from pathlib import Path

import pytest
from recount import recounted

import limekit
from limekit import facts
from limekit.course import published
from limekit.course.published import MISS, OWN, PRACTICE, PUBLISHED
from limekit.units import quantity

CASES = published.cases()
RECOUNT = "a count has changed: python tests/notebooks/recount.py"
README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")


def named(case):
    return f"{case.function}: {case.name}"


@pytest.mark.parametrize("case", CASES, ids=named)
def test_kit_does_as_the_row_says(case):
    answer = case.run()
    assert case.holds(answer), (
        f"{answer:.6g} {case.unit}; {case.source} has {case.expected} ({case.low} to {case.high})"
        + (f", the row says the kit gives {case.kit_gives}" if case.kind == MISS else "")
    )


@pytest.mark.parametrize("case", CASES, ids=named)
def test_row_is_fit_to_be_shown(case):
    assert case.function in limekit.__all__
    assert case.kind in published.KINDS
    assert case.tag in facts.TAGS
    assert len(case.source) > 3
    assert case.low <= case.expected <= case.high, (
        "a band that leaves its source out agrees only while the kit is wrong"
    )
    assert case.band_reason, "a band says why it is so wide"
    assert case.basis.startswith(case.source)
    assert (case.kit_gives is not None) == (case.kind == MISS)
    if case.kind == MISS:
        assert not case.agrees(case.kit_gives), "what the row says the kit gives is no miss"
        assert case.note, "a miss says what it means"


@pytest.mark.parametrize("case", [case for case in CASES if case.kind != OWN], ids=named)
def test_what_has_no_place_is_not_published_and_practice_is_no_publication(case):
    assert case.kind in ((PRACTICE, MISS) if case.tag == "practice" else (PUBLISHED, MISS, OWN))
    assert case.place or case.kind == PRACTICE
    assert not (case.kind == PRACTICE and case.weighs)


@pytest.mark.parametrize("case", [case for case in CASES if case.kind in (PUBLISHED, MISS)], ids=named)
def test_no_published_figure_is_one_the_kit_was_given(case):
    answer = float(quantity(case.run(), case.unit).to_base_units().magnitude)
    given = [float(one) for variants in facts.table().values() for one in variants if one.source == case.source]
    assert answer not in [pytest.approx(one, rel=1e-6) for one in given]


def test_published_cases_are_many_and_from_many_sources():
    printed = [case for case in CASES if case.kind == PUBLISHED]
    assert len(printed) >= 25
    assert len({case.source for case in printed}) >= 8
    assert len({case.function for case in printed}) >= 8


def test_no_case_is_named_twice():
    names = collections.Counter((case.function, case.name) for case in CASES)
    assert [name for name, count in names.items() if count > 1] == []


def test_no_sum_of_the_kit_s_own_is_worked_twice():
    worked = collections.Counter((case.function, case.inputs, case.result) for case in CASES if case.kind == OWN)
    assert [one for one, count in worked.items() if count > 1] == []


def test_a_band_can_fail():
    one = next(case for case in CASES if case.kind == PUBLISHED and case.low > 0)
    assert not one.holds(one.low * 0.99)
    assert not one.holds(one.high * 1.01)


def test_a_known_miss_fails_when_the_kit_is_mended_and_when_it_gets_worse():
    for one in [case for case in CASES if case.kind == MISS]:
        missed = one.kit_gives - one.expected
        assert one.holds(one.kit_gives)
        assert not one.holds(one.expected)
        assert not one.holds(one.kit_gives + 0.2 * missed)


def test_only_bands_inside_the_forecast_s_own_middle_half_weigh():
    before = limekit.burning_time_range(diameter="80 mm", gas_temperature="1000 degC")
    half = float((before.inner_high - before.inner_low) / before.median) / 2
    assert 0.8 * half < published.WEIGHS <= half
    known = next(case for case in CASES if case.weighs)
    assert not dataclasses.replace(known, high=known.expected * 1.3, low=known.expected * 0.8).weighs
    assert not dataclasses.replace(known, kind=OWN).weighs


def _counts(found):
    return [sum(map(counts, found)) for counts in published.COUNTED.values()]


@pytest.mark.parametrize("topic", published.topics())
def test_readme_counts_the_rows(topic):
    line = next(line for line in README.splitlines() if f"data/published/{topic}.csv" in line)
    assert line.endswith(" | ".join(map(str, _counts(published.cases(topic)))) + " |"), RECOUNT


def test_readme_counts_them_all_and_names_what_it_counts():
    assert f"| all | | {' | '.join(map(str, _counts(CASES)))} |" in README, RECOUNT
    assert f"| what | beside what | {' | '.join(published.COUNTED)} |" in README


def test_counts_gone_wrong_are_put_right_and_all_else_stays():
    count = re.compile(r"(?<=\| )\d+(?= \|)|\d+(?= (?:are|facts) )")
    spoilt = count.sub(lambda found: str(int(found[0]) + 1), README)
    assert len(count.findall(README)) > 6 * len(published.topics())
    assert recounted(spoilt) == README, RECOUNT


def test_every_case_is_of_one_column():
    assert sum(_counts(CASES)) == len(CASES)
