"""Altitude and air temperature of a record reach every draught, firing and wall."""

import pytest

import limekit
from limekit.course.lessons import draught, walls
from limekit.edge import plain
from limekit.errors import InputError
from limekit.records.kiln_record import Record

HOURS = 2 * 3600.0
HIGH = {"kiln": {"altitude": "3000 m"}}
COLD = {"burn": {"air_temperature": "-10 degC"}}


@pytest.fixture
def records(tmp_path):
    """The example as it is, high in the hills, and in frost."""
    kept = [{}, HIGH, COLD]
    found = [Record.load(tmp_path / f"{place}.toml") for place in range(len(kept))]
    for record, changed in zip(found, kept, strict=True):
        for section, values in changed.items():
            record.keep(section, **values)
    return found


def test_a_design_draws_less_in_the_hills_and_more_in_frost(records):
    usual, high, cold = (limekit.Plan.of(record).plain.design for record in records)
    assert high.draught.fuel_rate_most < usual.draught.fuel_rate_most < cold.draught.fuel_rate_most
    assert high.kiln.altitude == 3000.0
    assert high.size.kiln_diameter == usual.size.kiln_diameter
    said = limekit.design_kiln(stone="500 kg", altitude="3000 m", air_temperature="-10 degC", excess_air=0.8)
    assert {one.name: one.kind for one in said.basis if one.name in ("altitude", "air_temperature", "excess_air")} == {
        "altitude": "given",
        "air_temperature": "given",
        "excess_air": "given",
    }


def test_a_record_is_fired_where_it_stands(records):
    usual, high, cold = (limekit.Plan.of(record).plain.but(hours=HOURS).firing for record in records)
    assert high.burn.column.air_pressure < 0.75 * usual.burn.column.air_pressure
    assert high.fuel_used < usual.fuel_used
    assert cold.burn.column.air_temperature == pytest.approx(263.15)
    assert cold.history.flue_temperature[0] != usual.history.flue_temperature[0]


def test_every_lesson_that_draws_or_burns_moves_with_the_record(records):
    plans = [limekit.Plan.of(record) for record in records]

    def throttled(plan):
        return draught.throttle_explorer(plan).result.draught.fuel_rate_most

    usual, high, cold = map(throttled, plans)
    assert high < usual < cold
    for explorer in (walls.wall_explorer, walls.choice_explorer):
        assert len({str(explorer(plan)) for plan in plans}) == 3
    for said in (walls.each_layer, walls.settled_or_not):
        assert len(set(map(said, plans))) == 3


def test_a_shaft_draws_less_high_up():
    asked = {"draw_rate": "10 tonne/day", "fuel_ratio": 0.075}
    size = limekit.size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft")
    low, high = (plain(limekit.run_shaft(size, **asked, altitude=f"{altitude} m")) for altitude in (0, 3000))
    assert high.stack_pressure < 0.8 * low.stack_pressure
    assert high.efficiency == pytest.approx(low.efficiency)


def test_a_kiln_s_altitude_is_its_own_wherever_it_is_told():
    size = limekit.size_kiln(stone="500 kg", largest_stone="80 mm")
    by_field = limekit.fire_kiln(size, altitude="2000 m", hours="2 h", levels=3)
    by_kiln = limekit.fire_kiln(size.with_(altitude="2000 m"), hours="2 h", levels=3)
    assert by_field.fuel_used == by_kiln.fuel_used < limekit.fire_kiln(size, hours="2 h", levels=3).fuel_used


def test_what_a_record_says_of_laying_wall_and_cover_reaches_its_kiln(tmp_path):
    record = Record.load(tmp_path / "my_kiln.toml")
    usual = limekit.Plan.of(record).plain.design
    record.keep("kiln", laid="with flues", wall_kind="rubble", cover="slabs")
    record.save()
    design = limekit.Plan.of(Record.load(tmp_path / "my_kiln.toml")).plain.design
    assert (design.kiln.laid, design.kiln.wall_kind, design.kiln.cover) == ("with flues", "rubble", "slabs")
    assert design.draught.fuel_rate_most > usual.draught.fuel_rate_most
    assert (design.firing.plan.kiln.laid, design.firing.plan.kiln.wall_kind) == ("with flues", "rubble")
    with pytest.raises(InputError, match="by hand"):
        record.keep("kiln", laid="thrown")


def test_how_a_charge_is_laid_is_chosen_in_the_lesson_on_draught_and_kept(tmp_path):
    explorer = draught.throttle_explorer(limekit.Plan.of(Record.load(tmp_path / "my_kiln.toml")))
    draws = []
    for laid in ("poured", "by hand", "with flues"):
        explorer.set(laid=laid)
        draws.append(explorer.result.draught.fuel_rate_most)
        assert ("flues" in explorer.sentence) is (laid == "with flues")
    assert draws[0] < draws[1] < draws[2]
    assert explorer.keeps(explorer.result)["kiln"]["laid"] == "with flues"
