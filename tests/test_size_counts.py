"""Bricks, mouths and refusals of a size, reckoned again and told to the figure."""

import math

import pytest

from limekit import InputError, fact, size_kiln
from limekit.kiln.kiln import OUTSIDE
from limekit.kiln.wall.layers import brick_count

FLARE = size_kiln.plain(2000.0, 0.1)


def test_common_bricks_fill_the_outer_ring_less_its_openings():
    (_, lining), (_, fill), (_, outer) = FLARE.wall
    inside = FLARE.kiln_diameter + 2 * (lining + fill)
    ring = math.pi / 4 * ((inside + 2 * outer) ** 2 - inside**2) * FLARE.kiln_height
    openings = FLARE.mouths * FLARE.mouth_width * FLARE.mouth_height * outer
    assert FLARE.common_bricks == pytest.approx(brick_count("common_brick", ring - openings, outer), abs=2)


def test_a_flare_kiln_s_eyes_are_as_wide_as_its_mouths_and_a_shaft_has_no_mouth():
    assert FLARE.eye_area == pytest.approx(FLARE.mouths * FLARE.mouth_width * FLARE.mouth_height)
    assert FLARE.air_opening_area == FLARE.eye_area
    assert math.pi / 4 * FLARE.chimney_diameter**2 == pytest.approx(FLARE.eye_area)
    shaft = size_kiln.plain(30_000.0, 0.08, kind="shaft")
    assert shaft.mouths == 0
    assert shaft.vault_height is None
    assert shaft.eye_area == pytest.approx(fact("mouth_share") * math.pi / 4 * shaft.kiln_diameter**2)
    assert shaft.bed_height == shaft.kiln_height


def test_stone_without_a_smallest_goes_down_to_half_the_largest():
    assert FLARE.smallest_stone == pytest.approx(0.05)
    assert size_kiln.plain(2000.0, 0.1, smallest_stone=0.03).smallest_stone == 0.03


@pytest.mark.parametrize(
    ("given", "got", "known"),
    [
        ({"stone": 90.0}, "90 kg, less", f"{fact('flare_batch_least'):.0f} kg or more"),
        ({"stone": 90_000.0}, "90 t, more", f"{fact('flare_batch_most') / 1000:.0f} t or less"),
        ({"stone": 500.0, "largest_stone": 0.2}, "stone of 200 mm in a flare kiln 0.69 m", "172 mm or less"),
    ],
)
def test_what_the_rules_do_not_cover_is_told_in_its_own_figures(given, got, known):
    (told,) = size_kiln.plain(**({"largest_stone": 0.06} | given)).outside_data
    assert told.startswith(f"{OUTSIDE}{got}")
    assert known in told


def test_a_shaft_too_tall_is_told_its_height_and_a_flare_kiln_is_never_too_tall_for_a_shaft():
    most = fact("shaft_height_most")
    (told,) = size_kiln.plain(900_000.0, 0.1, kind="shaft").outside_data
    assert told.startswith(f"{OUTSIDE}900 t held at once, a shaft ")
    assert float(told.split("a shaft ")[1].split(" m")[0]) > most
    assert f"{most:.0f} m at most" in told


@pytest.mark.parametrize(
    "given",
    [
        {"largest_stone": "600 mm", "stone": "300 kg"},
        {"largest_stone": "550 mm", "stone": "500 kg", "kind": "shaft"},
    ],
)
def test_the_example_offered_is_taken(given):
    asked = {"stone": "2 tonne", "largest_stone": "100 mm"} | given
    with pytest.raises(InputError) as told:
        size_kiln(**asked)
    name, value = told.value.example.split("=")
    offered = size_kiln(**(asked | {name: value.strip('"')}))
    assert offered.largest_stone >= offered.smallest_stone
    assert offered.smallest_stone.to("mm").magnitude > 10
