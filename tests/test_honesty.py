"""What the kit says of itself: nothing is claimed that a count or a row does not bear out."""

import json
import re
from pathlib import Path

import plotly.graph_objects as go
import pytest

from limekit import facts, tables
from limekit.course import published
from limekit.course.ladder import ladder
from limekit.course.lessons import how_do_we_know as lesson
from limekit.pictures import agreement

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
NO_STANDING = re.compile(r"\bpage\b|forum|supplier|trade notes|newsgroup|stoves list|adviser|student network", re.I)
WITH_A_PLACE = ("facts", "fuels", "gases", "stone_kinds", "yard", "wall_kinds", "wall_materials", "cautions", "keeping")


def one_line(text):
    return " ".join(text.split())


def prose(slug):
    notebook = json.loads((ROOT / "notebooks" / ladder()[slug].file).read_text(encoding="utf-8"))
    return one_line("\n".join("".join(cell["source"]) for cell in notebook["cells"]))


def test_the_lesson_offers_every_topic_in_the_folder():
    folder = {path.stem for path in (ROOT / "limekit/data/published").glob("*.csv")}
    assert set(lesson.TOPICS.values()) == folder
    assert {"firing", "shaft"} <= folder


@pytest.mark.parametrize("name", WITH_A_PLACE)
def test_what_was_read_says_where_and_a_page_of_no_standing_is_practice(name):
    for row in tables.rows(name):
        where = " ".join(list(row.values())[:2])
        assert row["source"].strip(), where
        if row["tag"] == "read":
            assert row["place"].strip(), where
            assert not NO_STANDING.search(row["source"]), where


@pytest.mark.parametrize("case", published.cases(), ids=lambda case: f"{case.function}: {case.name}")
def test_no_page_without_standing_is_published(case):
    if case.kind in (published.PUBLISHED, published.MISS):
        assert not NO_STANDING.search(case.source)


def test_what_is_said_of_the_constants_is_counted():
    assert one_line(lesson.known_how()) in one_line(README), "python tests/notebooks/recount.py"
    assert sum(map(int, re.findall(r"(\d+) are", lesson.known_how()))) == sum(map(len, facts.table().values()))


def test_nothing_says_that_all_constants_have_sources_or_one_home():
    said = [path for folder in ("limekit", "notebooks", ".") for path in (ROOT / folder).glob("*.*")]
    claim = re.compile(r"every (constant|figure) (has its|stands in|has a) |constants stand in one file", re.I)
    for path in said:
        if path.suffix in {".md", ".py", ".ipynb"}:
            assert not claim.search(one_line(path.read_text(encoding="utf-8"))), path.name


@pytest.mark.parametrize("slug", ladder())
def test_no_lesson_counts_the_hurt_the_green_or_the_asleep_without_a_source(slug):
    assert not re.search(r"most people are hurt|stokers asleep|lime mortar, usually", prose(slug))


def fired():
    """Known misses in the hours of fired kilns, by the stone they hold in kilograms."""
    for case in published.cases("firing"):
        if case.result == "finish" and case.kind == published.MISS:
            amount, unit = re.search(r'stone="([\d.]+) (kg|tonne)"', case.inputs).groups()
            yield float(amount) * (1000 if unit == "tonne" else 1), case


def test_where_the_fired_kiln_misses_it_is_too_slow_for_small_kilns_and_too_quick_for_large_ones():
    misses = list(fired())
    assert misses
    for stone, case in misses:
        assert (case.kit_gives < case.expected) == (stone > 1000), case.name
        assert case.note.startswith("too quick" if stone > 1000 else "too slow")


def test_readme_counts_the_firings_met_and_missed():
    kinds = [case.kind for case in published.cases("firing") if case.kind != published.PRACTICE]
    met, missed = kinds.count(published.PUBLISHED), kinds.count(published.MISS)
    assert met + missed == len(kinds)
    assert (
        f"Of the {len(kinds)} figures of published firings the fired kiln meets {met} and misses {missed}"
        in one_line(README)
    )


def drawn(*cases):
    names = [name for name, *_ in cases]
    figure = go.Figure(
        agreement.agreement(
            names,
            [answer for _, answer, *_ in cases],
            [band for *_, band in cases],
            names,
            {kind: range(len(cases)) if kind == published.PUBLISHED else () for kind in published.KINDS},
        )
    )
    band, published_cases = figure.data[:2]
    widths = [band.x[3 * place + 1] / band.x[3 * place] for place in range(len(cases))]
    return figure, widths, published_cases.x


def test_the_agreement_picture_has_one_scale_for_narrow_bands_and_wide_ones():
    figure, widths, places = drawn(("narrow", 1004.0, (995.0, 1000.0, 1005.0)), ("wide", 0.2, (0.005, 0.1, 0.25)))
    assert widths == pytest.approx([1005 / 995, 50.0])
    assert list(places) == pytest.approx([1.004, 2.0])
    assert figure.layout.xaxis.type == "log"
    assert figure.layout.xaxis.range == drawn(("narrow", 1.0, (0.99, 1.0, 1.01)))[0].layout.xaxis.range


@pytest.mark.parametrize("case", published.cases(), ids=lambda case: f"{case.function}: {case.name}")
def test_band_and_answer_lie_within_the_picture(case):
    low, high = agreement.ENDS
    for place in (case.low, case.high, case.kit_gives or case.expected):
        assert low < place / case.expected < high


def test_the_mixer_is_asked_of_the_mains_or_the_generator_and_of_nothing_borrowed():
    assert "Does the mains or the generator start it?" in prose("the_workshop")
    told = prose("the_workshop") + (ROOT / "limekit/records/supplies.py").read_text(encoding="utf-8")
    assert not re.search(r"borrowed generator|inverter", told, re.I)
