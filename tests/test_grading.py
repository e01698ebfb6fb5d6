import pytest

import limekit
from limekit.grading import UNKNOWN


@pytest.mark.parametrize(
    ("index", "name"),
    # Candlot's table, reprinted in Cement and Concrete, art. 2
    [
        (0.05, "fat or lean, not hydraulic"),
        (0.12, "feebly hydraulic"),
        (0.20, "ordinarily hydraulic"),
        (0.35, "truly hydraulic"),
        (0.50, "eminently hydraulic"),
        (0.70, "beyond the building limes"),
    ],
)
def test_hydraulic_classes_follow_candlot(index, name):
    found = limekit.hydraulic_index(silica=index / 4, alumina=index / 4, calcium_oxide=0.5)
    assert found.name == name
    assert found.index == pytest.approx(index)
    assert "Candlot" in str(found)


def test_cementation_index_is_ecks_formula_worked_by_hand():
    # (2.8 x 0.12 + 1.1 x 0.03 + 0.7 x 0.02) / (0.44 + 1.4 x 0.02) = 0.383 / 0.468
    found = limekit.cementation_index(
        silica=0.12, alumina=0.03, iron_oxide=0.02, calcium_oxide=0.44, magnesium_oxide=0.02
    )
    assert found.index == pytest.approx(0.383 / 0.468)
    assert found.name == "eminently hydraulic"
    assert "from memory" in found.source


def test_without_an_analysis_the_class_is_unknown():
    assert limekit.hydraulic_index(silica=0.1) == UNKNOWN
    assert limekit.cementation_index(silica=0.1, alumina=0.1) == UNKNOWN
    assert str(UNKNOWN) == "unknown"


@pytest.mark.parametrize(
    ("oxide", "magnesia", "gas", "name"),
    # EN 459-1 nominal values, from memory
    [
        (0.93, 0.01, 0.03, "CL 90"),
        (0.93, 0.01, 0.05, "CL 80"),
        (0.82, 0.0, 0.03, "CL 80"),
        (0.72, 0.0, 0.11, "CL 70"),
        (0.72, 0.0, 0.13, "below CL 70"),
        (0.60, 0.30, 0.02, "dolomitic"),
    ],
)
def test_building_lime_class_follows_the_nominal_limits(oxide, magnesia, gas, name):
    found = limekit.building_lime_class(calcium_oxide=oxide, magnesium_oxide=magnesia, carbon_dioxide_left=gas)
    assert found == name


@pytest.mark.parametrize(
    ("calcium", "magnesium", "lime", "hydraulic"),
    # lime classes from EN 459-1 nominal values (memory); clay in the stone from Candlot's table (read)
    [
        (0.98, 0.0, "CL 90", "not hydraulic"),
        (0.93, 0.0, "CL 80", "feebly hydraulic"),
        (0.88, 0.0, "CL 80", "ordinarily hydraulic"),
        (0.82, 0.0, "CL 70", "truly hydraulic"),
        (0.80, 0.0, "below CL 70", "eminently hydraulic"),
        (0.70, 0.0, "below CL 70", "beyond the building limes"),
        (0.54, 0.44, "dolomitic", "not hydraulic"),
    ],
)
def test_a_stone_is_judged_by_its_lime_and_by_the_most_its_clay_could_do(calcium, magnesium, lime, hydraulic):
    verdict = limekit.judge_stone(calcium_carbonate=calcium, magnesium_carbonate=magnesium)
    assert verdict.lime_class == lime
    assert verdict.hydraulic_at_most.startswith(hydraulic)
    assert ("quartz" in str(verdict)) == (hydraulic != "not hydraulic")


def test_pure_stone_gives_pure_lime():
    verdict = limekit.judge_stone(calcium_carbonate=1.0)
    assert verdict.calcium_oxide.magnitude == pytest.approx(1.0)
    assert str(verdict) == "lime with the oxides of CL 90; not hydraulic"
