"""Sorting and reckoning with a record of one's own: what is invented fits its kiln, and what is kept says whose it is."""

import math

import pytest

import limekit
from limekit.course.lessons import draught, draw_and_sort, fuel_and_air, money_and_carbon
from limekit.edge import plain

TRIAL = limekit.example_path("trial_example.csv")


@pytest.fixture
def record(tmp_path):
    return limekit.Record.load(tmp_path / "my_kiln.toml")


def drawn(record):
    plan = limekit.Plan.of(record)
    return draw_and_sort.draw_explorer(plan, draw_and_sort.invented_heaps(plan), core_ratio=0.6)


@pytest.mark.parametrize(
    "own",
    [
        {},
        {"kiln": {"stone": "200 kg"}},
        {"kiln": {"stone": "5000 kg"}},
        {"lime": {"putty_volume": "300 L"}},
        {"stone": {"calcium_carbonate": 0.8, "stone_moisture": 0.05}},
        {"burn": {"conversion": 0.5}},
    ],
)
def test_invented_heaps_fit_every_kiln_and_stone(record, own):
    for section, values in own.items():
        record.keep(section, **values)
    assert drawn(record).sentence.startswith("Accept")
    plan = limekit.Plan.of(record)
    said = draw_and_sort.drawn(plan, draw_and_sort.invented_heaps(plan), core_ratio=0.6)
    assert f"From {plan.plain.design.stone.middle:.0f} kg of stone" in said
    used = float(said.partition("the fire gave ")[2].partition(" %")[0])
    assert used < 100 * limekit.fact("flare_efficiency").high


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


def test_a_burn_is_reckoned_with_the_plans_fuel_kiln_and_putty(record):
    example = limekit.Plan.of(record)
    assert money_and_carbon.beside_example(example) == (1.0, 1.0)
    own = limekit.Plan.of(record.keep("fuel", name="pine").keep("lime", putty_volume="300 L"))
    line = plain(money_and_carbon.wood_line(own, 100.0)).amount
    assert 10.0 * line.middle == pytest.approx(own.plain.forecast.fuel.middle)
    assert 10.0 * line.high == pytest.approx(own.plain.forecast.fuel.high)
    counted = money_and_carbon.carbon_explorer(own)
    assert counted.result.own.per_kilogram == pytest.approx(own.plain.ledger.per_kilogram)
    costed = money_and_carbon.cost_explorer(own, [])
    assert costed.result.sheet.putty_volume == pytest.approx(0.3)


def test_the_stack_to_have_ready_is_the_plans_and_the_rule_stands_beside_it(record):
    plan = limekit.Plan.of(record.keep("lime", putty_volume="333 L"), trial=TRIAL)
    explorer = fuel_and_air.pile_explorer(plan)
    assert explorer.result.mass.middle == pytest.approx(plan.plain.forecast.fuel.middle)
    assert explorer.result.mass.high == pytest.approx(plan.plain.forecast.fuel.high)
    assert plan.figures["fuel"].words.removesuffix(" kg") in explorer.sentence
    assert "the rule of thumb says" in explorer.sentence


def test_the_fuel_keeps_its_own_words_unless_it_is_another(record):
    plan = limekit.Plan.of(record.keep("fuel", name="beech from the ridge"))
    explorer = fuel_and_air.pile_explorer(plan)
    assert explorer.keeps(explorer.result)["fuel"]["name"] == "beech from the ridge"
    explorer.set(fuel="pine", fuel_moisture=0.3)
    kept = explorer.keeps(explorer.result)["fuel"]
    assert limekit.Plan.of(record.keep("fuel", **kept)).fuel.kind == "pine"


def test_a_fire_decided_by_its_heat_is_not_undone_by_keeping_its_wood(record):
    explorer = fuel_and_air.fire_explorer(limekit.Plan.of(record.keep("burn", fire_temperature="1050 degC")))
    assert "excess_air" not in explorer.keeps(explorer.result)["fuel"]
    explorer.set(excess_air=0.9)
    assert explorer.keeps(explorer.result)["fuel"]["excess_air"] == pytest.approx(0.9)


def test_the_draught_is_that_of_the_plans_kiln_and_what_is_kept_gives_it_again(record):
    plan = limekit.Plan.of(record.keep("kiln", altitude="1500 m", largest_stone="90 mm"), trial=TRIAL)
    explorer = draught.throttle_explorer(plan)
    assert explorer.result.draught.fuel_rate_most == pytest.approx(plan.plain.design.draught.fuel_rate_most)
    feeds = f"**{3600 * plan.plain.design.draught.fuel_rate_most:.0f} kg/h**"
    assert feeds in draught.chimneys(plan, 0, plan.plain.kiln.chimney_height)
    explorer.set(chimney_height="3 m", laid="with flues")
    kept = explorer.keeps(explorer.result)["kiln"]
    assert "smallest_stone" not in kept
    again = limekit.Plan.of(record.keep("kiln", **kept), trial=TRIAL)
    assert again.plain.kiln.chimney_height == 3.0
    assert draught.throttle_explorer(again).result.draught.fuel_rate_most == pytest.approx(
        explorer.result.draught.fuel_rate_most, rel=0.02
    )


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
