"""Sorting and reckoning with a record of one's own: what is invented fits its kiln, and what is kept says whose it is."""

import math

import pytest

import limekit
from limekit.course.lessons import draw_and_sort, money_and_carbon
from limekit.edge import plain


@pytest.fixture
def record(tmp_path):
    return limekit.Record.load(tmp_path / "my_kiln.toml")


def drawn(record):
    heaps = draw_and_sort.invented_heaps(record)
    stone = record.stone.with_(mass=record.quantity("kiln.stone"))
    return draw_and_sort.draw_explorer(heaps, core_ratio=0.6, stone=stone)


@pytest.mark.parametrize(
    "own",
    [
        {},
        {"kiln": {"stone": "200 kg"}},
        {"kiln": {"stone": "5000 kg"}},
        {"stone": {"calcium_carbonate": 0.8, "stone_moisture": 0.05}},
        {"burn": {"conversion": 0.5}},
    ],
)
def test_invented_heaps_fit_every_kiln_and_stone(record, own):
    for section, values in own.items():
        record.keep(section, **values)
    explorer = drawn(record)
    assert explorer.sentence.startswith("Accept")
    heat = draw_and_sort.fuel_burnt(record)
    draw = explorer.result.draw
    fired = limekit.sort_draw.plain(
        draw.good_lime, stone=plain(record.quantity("kiln.stone")), fuel_heat=heat, **plain(record.stone).made_of
    )
    assert fired.efficiency < limekit.fact("flare_efficiency").high


def test_what_is_kept_comes_from_the_heaps_and_says_whose_they_are(record):
    explorer = drawn(record)
    kept = explorer.keeps(explorer.result)["lime"]
    assert "invented" in kept["available_lime_from"]
    explorer.set(overburnt="60 kg", good_lime="266 kg")
    own = explorer.keeps(explorer.result)["lime"]
    assert "your heaps" in own["available_lime_from"]
    explorer.set(into_water="everything")
    assert explorer.keeps(explorer.result)["lime"]["available_lime"] < own["available_lime"]
    assert kept["available_lime"] == round(kept["available_lime"], 2)


def test_no_verdict_and_nothing_to_keep_where_the_weights_cannot_be(record):
    explorer = drawn(record)
    explorer.set(good_lime="0 kg")
    assert explorer.sentence.startswith("No verdict")
    with pytest.raises(limekit.InputError, match="weights that agree"):
        explorer.keeps(explorer.result)
    slider = explorer.controls["good_lime"]
    slider.value = slider.max
    assert "no more lime than dry stone" in explorer.error


def test_a_burn_is_reckoned_with_the_records_own_fuel_kiln_and_putty(record):
    example = money_and_carbon.burn_of(record)
    assert money_and_carbon.beside_example(example) == (1.0, 1.0)
    record.keep("kiln", efficiency=0.30)
    assert plain(money_and_carbon.burn_of(record)).fuel_mass == plain(example).fuel_mass, "the firing's, not a rule's"
    record.keep("fuel", name="pine", fuel_mass="400 kg")
    own = plain(money_and_carbon.burn_of(record))
    assert own.fuel == "pine"
    assert own.fuel_mass.middle == pytest.approx(400.0)
    assert own.fuel_mass.low <= 400.0 < own.fuel_mass.high
    record.keep("lime", putty_volume="300 L")
    assert plain(money_and_carbon.burn_of(record)).putty_volume.middle == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("price", "said"),
    [(18, "burns pay the kiln back"), (9, "if every doubtful figure"), (1, "no number of burns pays")],
)
def test_a_kiln_that_never_pays_is_said_in_words(price, said):
    lines = (limekit.cost_line("wood", 120, 60, 180), limekit.kiln_line(outlay=800, burns=20))
    sheet = limekit.cost_sheet(lines, quicklime="300 kg", putty_volume="640 L", yield_spread=0.15)
    beside = limekit.break_even(sheet, price=price, per="25 kg")
    words = money_and_carbon.paid_back(beside)
    assert said in words
    assert "inf" not in words
    assert math.isfinite(beside.burns.middle) == (price == 18)
