import pytest

from limekit.course.recorded import design_of, firing_of, fuel_named
from limekit.kiln.firing import fire_kiln
from limekit.records.kiln_record import Record


@pytest.fixture
def record(tmp_path):
    return Record.load(tmp_path / "my_kiln.toml")


@pytest.mark.parametrize(
    ("words", "fuel"), [("red oak, split", "oak"), ("Scots PINE slabs", "pine"), ("whatever comes", "oak")]
)
def test_the_fuel_is_the_one_the_words_name(record, words, fuel):
    assert fuel_named(record.keep("fuel", name=words)) == fuel


def test_the_kiln_drawn_up_is_the_records(record):
    design = design_of(record.keep("kiln", stone="500 kg", largest_stone="100 mm", smallest_stone="60 mm"))
    assert design.stone.middle == 500.0
    assert (design.size.largest_stone, design.size.smallest_stone) == pytest.approx((0.1, 0.06))
    assert design.burning_time.middle == pytest.approx(5 * 3600.0)
    assert design.fuel == "oak"


def test_a_chimney_kept_in_the_record_draws(record):
    low = design_of(record).draught.fuel_rate_most
    assert design_of(record.keep("kiln", chimney_height="3 m")).draught.fuel_rate_most > 1.5 * low


def test_proportions_of_ones_own_are_kept_and_the_examples_are_not(record):
    assert design_of(record).size.height_to_diameter == pytest.approx(1.4)
    design = design_of(record.keep("kiln", kiln_diameter="0.85 m", kiln_height="1.02 m"))
    assert design.size.height_to_diameter == pytest.approx(1.2)
    assert design.kiln_height.middle / design.kiln_diameter.middle == pytest.approx(1.2)


def test_a_kiln_is_fired_as_the_record_says(record):
    known = firing_of(record.keep("fuel", name="pine slabs", fuel_moisture=0.3).keep("stone", moisture=0.02))
    assert (known["fuel"], known["moisture"], known["stone_moisture"]) == ("pine", 0.3, 0.02)
    firing = fire_kiln.plain(design_of(record), hours=1800.0, **known)
    assert firing.plan.fuel_moisture == 0.3
    assert firing.plan.chimney_height == 0.0
