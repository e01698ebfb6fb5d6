"""What a firing and its range say of themselves, from figures written out by hand."""

from limekit.estimate import Estimate
from limekit.kiln import ensemble, firing
from limekit.kiln.column.limits import Limit

HOUR = 3600.0


def test_a_firing_without_a_finish_tells_its_two_most_telling_limits():
    limits = tuple(Limit(name, f"{name} hit.", "Lift it.") for name in ("draught", "time", "heat"))
    assert firing._verdict(None, {}, limits) == "draught hit. Lift it. time hit. Lift it."
    assert firing._verdict(None, {}, limits[:1]) == "draught hit. Lift it."


def test_a_finish_is_told_in_hours_and_kilograms():
    made = {"fuel_used": 312.4, "quicklime": 251.0, "raw_stone": 23.6}
    said = firing._verdict(13.5 * HOUR, made, ())
    assert said.startswith("Done after 13.5 h and 312 kg of fuel: 251 kg of quicklime, 24 kg of stone left raw")


def test_stones_never_burnt_are_told_in_percent():
    said = ensemble._verdict(None, 0.8, 0.95)
    assert said.startswith("20 % of the stones that the trial leaves open are never burnt to 95 %")


def test_a_range_of_hours_is_told_with_the_longest_to_be_ready_for():
    said = ensemble._verdict(Estimate(15 * HOUR, 12 * HOUR, 20 * HOUR, 14 * HOUR, 17 * HOUR), 1.0, 0.95)
    assert "Done after 15 h, nine times in ten between 12 and 20 h" in said
    assert said.endswith("fuel and hands for 20 h.")
