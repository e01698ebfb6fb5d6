"""A kiln as a thing: its wall, where its charge stands, the way of its air, and how it is told and read."""

import math

import pytest

from limekit import InputError, fact, size_kiln
from limekit.fire.bed import laid_porosity, usual_flues
from limekit.kiln.kiln import OUTSIDE, WALL, Kiln, usual_wall
from limekit.kiln.wall.layers import wall_kinds

SIZE = size_kiln.plain(500.0, 0.1)


def test_the_usual_wall_is_thin_in_a_narrow_kiln_and_thick_from_one_of_many_mouths_on():
    edge = float(fact("one_mouth_below"))
    narrow, wide = dict(usual_wall(math.nextafter(edge, 0.0))), dict(usual_wall(edge))
    assert list(narrow) == list(wide) == ["firebrick", "dry_sand", "common_brick"]
    assert all(narrow[material] <= wide[material] for material in narrow)
    assert narrow["firebrick"] < wide["firebrick"]
    assert Kiln.plain(kiln_diameter=edge).wall == usual_wall(edge)


def test_layers_go_before_a_kind_of_wall_and_that_before_bricks():
    layers = [("rubble", 0.5)]
    assert SIZE.but(layers=layers, wall_kind="bank").wall == (("rubble", 0.5),)
    assert SIZE.but(wall_kind="bank").wall == wall_kinds()["bank"]
    told = SIZE.but(lining_thickness=0.23, fill_thickness=0.05, outer_thickness=0.3)
    assert told.wall == tuple(zip(WALL.values(), (0.23, 0.05, 0.3), strict=True))


@pytest.mark.parametrize(
    ("changed", "vaulted"),
    [
        ({}, True),
        ({"laid": "with flues"}, True),
        ({"laid": "poured"}, False),
        ({"vault_height": None}, False),
        ({"vault_height": 0.0}, False),
    ],
)
def test_a_charge_stands_on_its_vault_and_ends_at_the_rim_or_is_level_on_its_hearth(changed, vaulted):
    kiln = SIZE.but(**changed)
    assert kiln.is_vaulted is vaulted
    assert kiln.foot == (SIZE.vault_height if vaulted else SIZE.hearth_height)
    assert kiln.foot + kiln.charge_height == pytest.approx(SIZE.kiln_height), "nothing above the rim holds gas back"


def test_a_hearth_under_a_vault_is_never_lower_than_practice_needs_and_a_level_one_is_as_it_is():
    low = SIZE.but(vault_height=0.1)
    assert low.air_way(0.06).hearth_height == fact("hearth_least") > 0.1
    assert low.air_way(0.06).bed_height == SIZE.kiln_height - 0.1
    high = SIZE.but(vault_height=0.6)
    assert high.air_way(0.06).hearth_height == 0.6
    poured = low.but(laid="poured").air_way(0.06)
    assert poured.hearth_height == SIZE.hearth_height < fact("hearth_least")
    assert poured.bed_height == SIZE.bed_height


def test_the_way_of_the_air_has_the_kiln_s_measures_and_what_is_told_beside():
    kiln = SIZE.but(altitude=800.0, chimney_height=2.0)
    way = kiln.air_way(0.06, wind_pressure=4.0)
    assert (way.kiln_diameter, way.eye_area, way.air_opening_area) == (
        SIZE.kiln_diameter,
        SIZE.eye_area,
        SIZE.air_opening_area,
    )
    assert (way.altitude, way.chimney_height, way.chimney_diameter) == (800.0, 2.0, SIZE.chimney_diameter)
    assert (way.sauter_diameter, way.wind_pressure) == (0.06, 4.0)
    for laid in ("poured", "by hand", "with flues"):
        found = SIZE.but(laid=laid).air_way(0.06).bed_porosity
        assert found == laid_porosity.plain(laid, 0.06, SIZE.kiln_diameter)
    assert kiln.air_way(0.06, bed_porosity=0.5).bed_porosity == 0.5


def test_flues_are_those_told_or_by_rule_and_none_where_none_are_laid():
    assert SIZE.air_way(0.06).flues == 0
    by_rule = SIZE.but(laid="with flues", flue_width=0.08).air_way(0.06)
    assert (by_rule.flues, by_rule.flue_width) == (usual_flues(0.08, SIZE.kiln_diameter), 0.08)
    assert SIZE.but(laid="with flues", flues=2).air_way(0.06).flues == 2
    assert SIZE.but(flues=0, laid="with flues").air_way(0.06).flues == 0


@pytest.mark.parametrize("cover", ["open", "closed in time"])
def test_an_open_top_is_the_whole_section_and_bears_no_chimney(cover):
    kiln = SIZE.but(cover=cover)
    assert kiln.air_way(0.06).eye_area == pytest.approx(math.pi / 4 * SIZE.kiln_diameter**2)
    with pytest.raises(InputError, match="open top under a chimney"):
        kiln.but(chimney_height=1.0).air_way(0.06)
    assert SIZE.but(cover="slabs", chimney_height=1.0).air_way(0.06).chimney_height == 1.0


def test_what_lies_outside_the_data_is_told_apart_from_other_warnings():
    kiln = SIZE.but(warnings=("wet ground", f"{OUTSIDE}too small", f"not {OUTSIDE}"))
    assert kiln.outside_data == (f"{OUTSIDE}too small",)
    assert (kiln.diameter, kiln.height, kiln.volume) == (kiln.kiln_diameter, kiln.kiln_height, kiln.kiln_volume)


def test_a_kiln_is_told_by_what_is_known_of_it():
    assert str(Kiln.plain()) == "some kiln"
    assert (Kiln.plain().wall_moisture, Kiln.plain().altitude, Kiln.plain().chimney_height) == (0.0, 0.0, 0.0)
    assert Kiln.plain(stone=500.0) == Kiln.plain(stone=500.0, basis=SIZE.basis), "whatever is said of its grounds"
    assert str(Kiln.plain(kind="flare", stone=500.0)) == "flare kiln for 500 kg of stone"
    measured = Kiln.plain(kind="shaft", kiln_diameter=1.0, kiln_height=5.0)
    assert str(measured) == "shaft kiln, 1.00 m across and 5.00 m high"
    assert str(Kiln.plain(kiln_diameter=1.0)) == str(Kiln.plain(kiln_height=5.0)) == "some kiln"
    assert str(measured.but(chimney_height=2.5)).endswith("5.00 m high, with a chimney of 2.5 m")
    assert repr(measured) == f"<{measured}>"


def test_a_kiln_is_read_from_itself_from_words_or_from_what_has_one():
    class Design:
        kiln = SIZE

    assert Kiln.of(Design(), "kiln", read=False) == SIZE
    assert SIZE.kiln is SIZE
    assert Kiln.of({"stone": "500 kg"}, "kiln").stone == 500.0
    with pytest.raises(InputError) as told:
        Kiln.of(3, "kiln")
    assert told.value.wanted == "what size_kiln or design_kiln returns"
    assert "size_kiln(" in told.value.example
