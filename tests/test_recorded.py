import pytest

from limekit.course.recorded import design_of, firing_of, trial_of, whose
from limekit.edge import plain
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.fuel import Fuel
from limekit.kiln.firing import fire_kiln
from limekit.records.examples import example_path
from limekit.records.kiln_record import Record
from limekit.stone.assessment import assess_trial


@pytest.fixture
def record(tmp_path):
    return Record.load(tmp_path / "my_kiln.toml")


@pytest.mark.parametrize(
    ("words", "fuel"), [("red oak, split", "oak"), ("Scots PINE slabs", "pine"), ("whatever comes", "oak")]
)
def test_the_fuel_is_the_one_the_words_name(record, words, fuel):
    assert record.keep("fuel", name=words).fuel.kind == fuel


def test_the_kiln_drawn_up_is_the_records(record):
    design = design_of(record.keep("kiln", stone="500 kg", largest_stone="100 mm", smallest_stone="60 mm"))
    assert design.stone.middle == 500.0
    assert (design.size.largest_stone, design.size.smallest_stone) == pytest.approx((0.1, 0.06))
    assert design.burning_time.middle == pytest.approx(5.8 * 3600.0)
    assert design.fuel == "oak"


def test_a_chimney_kept_in_the_record_draws(record):
    low = design_of(record.keep("kiln", chimney_height="0 m")).draught.fuel_rate_most
    assert design_of(record.keep("kiln", chimney_height="3 m")).draught.fuel_rate_most > 1.5 * low


def test_proportions_of_ones_own_are_kept_and_the_examples_are_not(record):
    assert design_of(record).size.height_to_diameter == pytest.approx(1.4)
    design = design_of(record.keep("kiln", kiln_diameter="0.85 m", kiln_height="1.02 m"))
    assert design.size.height_to_diameter == pytest.approx(1.2)
    assert design.kiln_height.middle / design.kiln_diameter.middle == pytest.approx(1.2)


def test_a_kiln_is_fired_as_the_record_says(record):
    known = firing_of(record.keep("fuel", name="pine slabs", fuel_moisture=0.3).keep("stone", stone_moisture=0.02))
    assert (known["fuel"], known["stone"].stone_moisture) == (Fuel.plain("pine", 0.3), 0.02)
    firing = fire_kiln.plain(design_of(record), hours=1800.0, **known)
    assert firing.plan.fuel.fuel_moisture == 0.3
    assert firing.plan.kiln.chimney_height == plain(record.quantity("kiln.chimney_height"))


def test_pieces_of_a_trial_are_read_as_dry_whatever_the_quarry_holds(record):
    record.keep("stone", calcium_carbonate=0.9, magnesium_carbonate=0.02, stone_moisture=0.2)
    trial = trial_of(record, example_path("trial_example.csv"))
    assert (trial.stone.calcium_carbonate, trial.stone.magnesium_carbonate) == (0.9, 0.02)
    assert trial.stone.stone_moisture == fact("stone_moisture")


def test_a_trial_takes_the_place_of_the_records_burning_time(record):
    assessment = assess_trial.plain(trial_of(record, example_path("trial_example.csv")))
    hours = assessment.forecast.plain(assessment, 0.08, 1273.15, 0.25, 0.95)
    design = design_of(record, assessment)
    assert design.burning_time.middle == pytest.approx(hours.median)
    assert (design.burning_time.low, design.burning_time.high) == pytest.approx((hours.low, hours.high))


def test_a_fire_too_cold_for_its_gas_is_refused_though_the_record_has_its_hours(record):
    with pytest.raises(InputError, match="never burns"):
        design_of(record.keep("burn", gas_temperature="850 degC", co2_fraction=0.8, burning_time="5 h"))


def test_what_is_changed_stands_in_place_of_the_record_and_putty_in_place_of_stone(record):
    design = design_of(record, putty_volume=1.0, fuel="fir")
    assert design.putty_volume.middle == pytest.approx(1.0)
    assert design.fuel == "fir"


def test_it_is_said_what_is_still_invented(record):
    assert "none is yours" in whose(record)
    said = whose(record.keep("kiln", largest_stone="90 mm"))
    assert said.startswith("Yours: largest stone. Still the invented example's: ")
    assert "smallest stone" in said


def test_a_fuel_without_an_analysis_is_said_to_be_counted_as_oak(record):
    assert 'no analysis of "cherry" and counts it as oak' in whose(record.keep("fuel", name="cherry"))
    assert "analysis" not in whose(record.keep("fuel", name="oak, split"))
