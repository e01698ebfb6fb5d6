import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError
from limekit.facts import fact

voids = st.floats(0.2, 0.5)


@given(voids, st.floats(0.1, 100))
def test_putty_that_just_fills_the_voids_makes_no_more_than_the_sand(share, sand):
    assert limekit.mortar_volume.plain(share * sand, sand, share) == pytest.approx(sand)
    assert limekit.mortar_volume.plain(share * sand + 1, sand, share) == pytest.approx(sand + 1)
    assert limekit.mortar_volume.plain(0.0, sand, share) == sand


@pytest.mark.parametrize("mix", limekit.mix_names())
@given(share=voids)
def test_no_mix_leaves_voids_empty(mix, share):
    made = limekit.mortar_mix.plain(mix, share)
    assert made.lime_parts / made.sand_parts >= share * (1 - 1e-9)
    assert ("richer" in made.words) == (1 / share < float(limekit.mortar_mix.plain(mix, 0.2).sand_parts))


def test_the_common_mix_is_one_to_three_of_slaked_putty():
    bedding = limekit.mortar_mix("bedding")
    assert bedding.sand_parts.magnitude == 3
    assert "slaked putty to dry loose sand" in bedding.words
    assert limekit.mortar_mix("bedding", sand_voids=0.4).sand_parts.magnitude == pytest.approx(2.5)


@given(st.floats(0.2, 12))
def test_both_bases_tell_one_mix(parts):
    slaked = limekit.mix_basis.plain(parts, "slaked putty")
    quick = limekit.mix_basis.plain(slaked.sand_to_quicklime, "quicklime")
    assert quick.sand_to_putty == pytest.approx(parts, rel=1e-9)
    assert slaked.sand_to_quicklime > parts  # a measure of quicklime swells


@pytest.mark.parametrize("basis", ["slaked putty", "quicklime"])
def test_lime_of_which_nothing_slakes_has_no_mix(basis):
    with pytest.raises(InputError, match="some slakes"):
        limekit.mix_basis(3, basis, available_lime=0)


@given(st.floats(0.1, 100), st.floats(0.05, 1), voids, st.floats(0, 0.5))
def test_what_a_wall_wants_makes_the_mortar_and_no_more(area, thickness, share, waste):
    need = limekit.wall_mortar.plain(area, thickness, "brick", None, "bedding", share, waste, 1350.0)
    made = limekit.mortar_volume.plain(need.putty_volume, need.sand_volume, share)
    assert made == pytest.approx(need.mortar_volume, rel=1e-9)
    filled = area * thickness * fact("joint_share", "brick")
    assert need.mortar_volume * (1 - waste) == pytest.approx(filled, rel=1e-9)
    assert need.putty == pytest.approx(need.putty_volume * 1350)
    back = limekit.putty_from_quicklime.plain(need.quicklime, 1350.0)
    assert back.putty_volume == pytest.approx(need.putty_volume, rel=1e-9)


def test_a_plaster_coat_worked_by_hand():
    # 10 m2 x 12 mm = 120 L; a tenth wasted: 133.3 L mixed; 1:3 at a third of voids: as much sand, a third putty
    coat = limekit.coat_mortar("10 m^2", "12 mm", sand_voids=1 / 3)
    assert coat.mortar_volume.to("L").magnitude == pytest.approx(133.3, abs=0.1)
    assert coat.sand_volume.to("L").magnitude == pytest.approx(133.3, abs=0.1)
    assert coat.putty_volume.to("L").magnitude == pytest.approx(44.4, abs=0.1)


def test_rubble_drinks_more_mortar_than_ashlar():
    walls = [limekit.wall_mortar.plain(10.0, 0.5, kind).mortar_volume for kind in ("rubble", "brick", "ashlar")]
    assert walls == sorted(walls, reverse=True)
    assert limekit.wall_mortar.plain(10.0, 0.5, joint_share=0.3).mortar_volume == pytest.approx(1.5 / 0.9)


@given(st.floats(1, 1000), st.integers(1, 8), st.floats(0, 5))
def test_limewash_is_putty_and_water(area, coats, dilution):
    wash = limekit.limewash.plain(area, coats, dilution)
    assert wash.putty_volume + wash.water_volume == pytest.approx(wash.limewash_volume, rel=1e-9)
    assert wash.water_volume == pytest.approx(dilution * wash.putty_volume, rel=1e-9)
    assert wash.limewash_volume == pytest.approx(coats * limekit.limewash.plain(area, 1, dilution).limewash_volume)
    assert wash.coating_time == (coats - 1) * 86400


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: limekit.sand_voids("600 mL", "1 L"), "dry the sand"),
        (lambda: limekit.sand_voids("35 mL", "1 L"), "dry the sand"),
        (lambda: limekit.mortar_mix("beding"), 'mix="bedding"'),
        (lambda: limekit.coat_mortar("10 m^2", "20 mm"), "15 mm at most, then another coat"),
        (lambda: limekit.coat_mortar("10 m^2", "10 mm", mix="bedding"), "no coat at all"),
        (lambda: limekit.wall_mortar("10 m^2", "500 mm", walling="cob"), "one of brick, rubble, ashlar"),
        (lambda: limekit.wall_mortar("10 m^2", "500 mm", waste=1.0), "waste"),
        (lambda: limekit.mix_basis(3, lime_basis="lime"), "one of slaked putty, quicklime"),
        (lambda: limekit.limewash("20 m^2", coats=0), "coats"),
        (lambda: limekit.limewash("20 m^2", coats=2.5), "a whole number"),
        (lambda: limekit.mortar_mix("bedding", sand_voids=0.0), "sand_voids"),
    ],
)
def test_what_cannot_be_is_refused(call, said):
    with pytest.raises(InputError, match=said):
        call()


def test_a_mix_counted_on_quicklime_worked_by_hand():
    # 1 L of lump lime at 0.9 kg, 0.9 of it CaO, makes 0.9 x 0.9 x 2.09 L of putty: 3 parts of sand to 1.69 of putty
    made = limekit.mix_basis.plain(3.0, "quicklime", 0.9, 1350.0, 900.0)
    assert made.sand_to_putty == pytest.approx(3.0 / (0.9 * 0.9 * 2.09), rel=2e-3)
    assert made.sand_to_quicklime == pytest.approx(3.0)
    assert made.words.startswith("1:3 counted on quicklime is 1:1.8 counted on slaked putty")


def test_a_hot_mix_is_refused_with_its_reason():
    with pytest.raises(InputError, match="dangerous to mix"):
        limekit.mortar_mix("hot mix")
