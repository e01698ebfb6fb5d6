import csv

import ht
import pytest

from limekit import tables
from limekit.errors import InputError
from limekit.facts import TAGS
from limekit.kiln.wall.layers import Layer, load, material, read_layers, wall_materials

BANDS = {
    "conductivity": (0.03, 6.0),
    "density": (50.0, 3000.0),
    "heat_capacity": (700.0, 2200.0),
    "limit": (650.0, 2000.0),
}


@pytest.mark.parametrize("one", wall_materials().values(), ids=lambda one: one.name)
def test_every_material_lies_in_a_plausible_band_and_has_its_sources(one):
    # from memory: what dry masonry and insulation may be at all; a shifted decimal falls out of it
    for figure, (low, high) in BANDS.items():
        assert low <= getattr(one, figure) <= high, figure
    assert one.conductivity_low <= one.conductivity <= one.conductivity_high <= 6.0
    assert one.conductivity_high / one.conductivity_low < 5.0
    assert one.tag in TAGS
    assert one.limit_source.split(":")[0] in TAGS
    assert one.source in one.basis


@pytest.mark.parametrize(
    ("name", "table", "row"),
    [
        ("rubble", ht.insulation.building_materials, "Stone, limestone, semi-hard"),
        ("sandstone", ht.insulation.building_materials, "Stone, sandstone (silica)"),
        ("lime_mortar", ht.insulation.building_materials, "Plasters and renders, lime sand"),
    ],
)
def test_masonry_stands_as_the_library_prints_it(name, table, row):
    density, conductivity, heat_capacity = table[row]
    ours = material(name)
    assert (ours.density, ours.conductivity, ours.heat_capacity) == (density, conductivity, heat_capacity)


def test_bricks_stand_as_the_library_prints_them():
    density, conductivity, heat_capacity = ht.insulation.refractories["Fireclay"]
    dense, light = material("firebrick"), material("insulating_firebrick")
    assert (dense.density, dense.conductivity, dense.heat_capacity) == (density, conductivity[2], heat_capacity[2])
    assert (dense.conductivity_low, dense.conductivity_high) == (min(conductivity), max(conductivity))
    density, conductivity, heat_capacity = ht.insulation.refractories["L1260"]
    assert (light.density, light.conductivity, light.heat_capacity) == (density, conductivity[2], heat_capacity[2])
    density, heat_capacity, conductivity, *_ = ht.insulation.ASHRAE["Brick, fired clay, 1760 kg/m^3"]
    clay = material("common_brick")
    assert (clay.density, clay.conductivity, clay.heat_capacity) == (density, conductivity, heat_capacity)


def test_a_material_that_cannot_be_trusted_does_not_load():
    header, good = tables.lines("wall_materials")[:2]
    assert load(csv.DictReader([header, good]))["rubble"].conductivity == 1.4
    for row, said in [
        (good.replace(",read,", ",guessed,"), "guessed"),
        (good.replace('"read: Kantiranis 1999, limestone begins to burn near 740 °C"', ""), "no source for its limit"),
        (good.replace(",1.4,", ",1400,"), "outside its range"),
    ]:
        assert row != good
        with pytest.raises(InputError, match=said):
            load(csv.DictReader([header, row]))


def test_layers_may_be_text_floats_or_layers():
    read = read_layers([("firebrick", "230 mm"), ("dry_sand", 0.1), Layer(material("rubble"), 0.45)])
    assert [layer.thickness for layer in read] == pytest.approx([0.23, 0.1, 0.45])
    assert str(read[1]) == "100 mm dry sand"
    assert read_layers(iter([("firebrick", "230 mm")])) == read[:1]
