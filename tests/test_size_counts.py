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


def across(diameter, **asked):
    """A flare kiln so wide (m), of the usual proportion and density."""
    stone = fact("flare_charge_density") * fact("flare_height_to_diameter") * math.pi / 4 * diameter**3
    return size_kiln.plain(float(stone), **({"largest_stone": 0.08} | asked))


def test_a_kiln_is_so_wide_that_its_stone_goes_into_its_proportion():
    assert across(1.3).kiln_diameter == pytest.approx(1.3)
    assert across(1.3).kiln_height == pytest.approx(1.3 * fact("flare_height_to_diameter"))


def test_one_mouth_serves_up_to_its_reach_and_each_reach_more_wants_another():
    one, reach = float(fact("one_mouth_below")), float(fact("mouth_reach"))
    widths = {one - 1e-6: 1, one + 1e-6: 2, one + reach - 1e-6: 2, one + reach + 1e-6: 3}
    for width, mouths in widths.items():
        size = across(width)
        assert size.mouths == mouths
        assert any("one firing mouth does not reach" in said for said in size.warnings) is (mouths > 1)
        section = math.pi / 4 * size.kiln_diameter**2
        assert size.mouths * size.mouth_width * size.mouth_height == pytest.approx(fact("mouth_share") * section)


def test_a_mouth_has_its_proportion_under_a_vault_that_is_high_enough():
    size = across(2.5)
    assert size.mouth_height == pytest.approx(
        min(
            math.sqrt(size.eye_area / size.mouths * fact("mouth_proportion")),
            fact("mouth_share_of_vault") * size.vault_height,
        )
    )
    assert across(0.6).mouth_width == fact("mouth_width_least"), "and is never too narrow to stoke through"


def test_draw_eyes_stand_no_farther_apart_than_their_spacing_between_the_fewest_and_the_most():
    spacing, least, most = (fact(f"draw_eye{name}") for name in ("_spacing", "s_least", "s_most"))
    for eyes in range(int(least), int(most)):
        assert [across(eyes * spacing + more).draw_eyes for more in (-1e-6, 1e-6)] == [eyes, eyes + 1]
    assert across((most + 1.5) * spacing).draw_eyes == most
    assert across(0.6).draw_eyes == least
    size = across(1.3)
    assert size.draw_eyes * size.draw_eye_size**2 == pytest.approx(size.eye_area)


def test_the_vault_is_half_a_ball_in_the_room_that_loose_stone_leaves():
    size = across(1.3)
    section = math.pi / 4 * size.kiln_diameter**2
    assert size.bed_height * section * fact("stone_bulk_density") == pytest.approx(size.stone)
    assert 2 / 3 * math.pi * size.vault_height**3 == pytest.approx(size.hearth_height * section)
    assert size.vault_span == pytest.approx(2 * size.vault_height)
    assert size.hearth_height + size.bed_height == pytest.approx(size.kiln_height)
    wall = size.lining_thickness + size.fill_thickness + size.outer_thickness
    assert size.outer_diameter == pytest.approx(size.kiln_diameter + 2 * wall)


LEAST, MOST = float(fact("flare_batch_least")), float(fact("flare_batch_most"))
SHAFT = {"kind": "shaft", "stone": 30_000.0}
SMALL, LARGE = float(fact("shaft_stone_least")), float(fact("shaft_stone_most"))


@pytest.mark.parametrize(
    ("at", "past", "said"),
    [
        ({"stone": LEAST}, {"stone": 0.99 * LEAST}, "less than the smallest"),
        ({"stone": MOST}, {"stone": 1.001 * MOST}, "more than the largest"),
        (SHAFT | {"largest_stone": LARGE}, SHAFT | {"largest_stone": LARGE + 1e-6}, "for a shaft;"),
        (
            SHAFT | {"largest_stone": SMALL * 1.5, "smallest_stone": SMALL},
            SHAFT | {"largest_stone": SMALL * 1.5, "smallest_stone": SMALL - 1e-6},
            "for a shaft;",
        ),
        (
            SHAFT | {"largest_stone": SMALL * float(fact("shaft_stone_spread")), "smallest_stone": SMALL},
            SHAFT | {"largest_stone": SMALL * float(fact("shaft_stone_spread")) + 1e-6, "smallest_stone": SMALL},
            "beside",
        ),
    ],
    ids=["least", "most", "large in a shaft", "small in a shaft", "uneven in a shaft"],
)
def test_the_last_size_that_is_known_is_told_of_nothing_and_the_next_is(at, past, said):
    usual = {"stone": 2000.0, "largest_stone": 0.06}
    assert not any(said in one for one in size_kiln.plain(**(usual | at)).outside_data)
    assert any(said in one for one in size_kiln.plain(**(usual | past)).outside_data)


@pytest.mark.parametrize("kind", ["flare", "shaft"])
@pytest.mark.parametrize("name", ["charge_density", "height_to_diameter"])
def test_rules_are_known_from_end_to_end(kind, name):
    rule = fact(f"{kind}_{name}")
    stone = {"stone": 30_000.0, "largest_stone": 0.08, "kind": kind}
    for given in (rule.low, rule.high):
        assert not any(
            "are known" in one and name in one.replace(" ", "_")
            for one in size_kiln.plain(**stone, **{name: given}).warnings
        )
    outside = (
        {"flare": 1.02 * rule.high, "shaft": 0.98 * rule.low}[kind] if name == "height_to_diameter" else 0.98 * rule.low
    )
    (told,) = (one for one in size_kiln.plain(**stone, **{name: outside}).outside_data if name in one.replace(" ", "_"))
    assert f"of {outside:.4g}" in told
    assert f"{rule.low:.4g} to {rule.high:.4g}" in told
    assert (" kg/m³" in told) is (name == "charge_density")


@pytest.mark.parametrize("kind", ["flare", "shaft"])
def test_stone_is_best_under_its_share_of_the_width_and_goes_in_under_the_whole(kind):
    stone = {"stone": 500.0, "kind": kind}
    wide = size_kiln.plain(largest_stone=0.05, **stone).kiln_diameter
    best = float(fact(f"{kind}_stone_share")) * wide
    for largest, told in ((best * (1 - 1e-9), False), (best * (1 + 1e-9), True)):
        said = size_kiln.plain(largest_stone=largest, **stone).outside_data
        assert any("of the diameter" in one for one in said) is told
    with pytest.raises(InputError, match="goes into it"):
        size_kiln.plain(largest_stone=wide, **stone)
    even = size_kiln.plain(largest_stone=0.05, smallest_stone=0.05, **stone)
    assert even.smallest_stone == even.largest_stone
    with pytest.raises(InputError, match="larger than the largest"):
        size_kiln.plain(largest_stone=0.05, smallest_stone=0.051, **stone)
