"""Every published case: the kit's answer lies in the band its row gives, and every row is fit to be shown."""

import collections
from pathlib import Path

import pytest

import limekit
from limekit.course import published
from limekit.facts import TAGS

CASES = published.cases()
README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
WIDEST = 0.25  # of what is expected, a wider band shows little


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.function}: {case.name}")
def test_kit_agrees_with_the_source(case):
    answer = case.run()
    assert case.agrees(answer), (
        f"{answer:.6g} {case.unit}; {case.source} has {case.expected} ({case.low} to {case.high})"
    )


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.function}: {case.name}")
def test_row_is_fit_to_be_shown(case):
    assert case.function in limekit.__all__
    assert case.tag in TAGS
    assert len(case.source) > 3
    assert case.low <= case.high
    assert case.low <= case.expected <= case.high or case.note, "a kit that departs from its source says why"
    assert case.high - case.low <= WIDEST * abs(case.expected) or case.note or case.place, "a wide band says why"
    assert case.basis.startswith(case.source)


def test_rows_are_many_and_from_many_sources():
    assert len(CASES) >= 25
    assert len({case.source for case in CASES}) >= 8
    assert len({case.function for case in CASES}) >= 8


def test_no_case_is_named_twice():
    names = collections.Counter((case.function, case.name) for case in CASES)
    assert [name for name, count in names.items() if count > 1] == []


def test_a_band_can_fail():
    one = next(case for case in CASES if case.low > 0)
    assert not one.agrees(one.low * 0.99)
    assert not one.agrees(one.high * 1.01)


@pytest.mark.parametrize("topic", sorted({case.topic for case in CASES}))
def test_readme_counts_the_rows(topic):
    counted = collections.Counter(case.tag for case in CASES if case.topic == topic)
    line = next(line for line in README.splitlines() if f"data/published/{topic}.csv" in line)
    assert line.endswith(" | ".join(str(counted[tag]) for tag in ("read", "computed", "memory", "practice")) + " |")
