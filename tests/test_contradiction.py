from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit import Stone
from limekit.stone.contradiction import compare_piece, compare_trial
from limekit.stone.trial import Trial, TrialPiece

STONE = {"calcium_carbonate": 0.94, "magnesium_carbonate": 0.01, "stone_moisture": 0.005}


def piece(
    size=0.06, core=0.03, mass=0.3, calcium_carbonate=0.94, magnesium_carbonate=0.01, stone_moisture=0.005, **more
):
    burnt = 1 - (core / size) ** 3
    drawn = limekit.mass_balance.plain(
        mass, calcium_carbonate, burnt, 1350.0, magnesium_carbonate, 1.0, stone_moisture
    ).drawn
    return TrialPiece("piece", size, 3600.0, mass, drawn, core_size=core, **more)


@given(st.floats(0.02, 0.1), st.floats(0, 1), st.floats(0.01, 2))
def test_weights_and_core_of_one_burn_agree(size, core, mass):
    found = compare_piece(piece(size, core * size, mass), **STONE)
    assert found.agree is True
    assert found.cause == found.remedy == ""
    assert found.verdict.endswith("they agree.")


@pytest.mark.parametrize(
    ("made", "cause"),
    [
        (piece(stone_moisture=0.06), "wet stone"),
        (replace(piece(), mass_after=0.13), "lost crumbs"),
        (replace(piece(stone_moisture=0.06), note="a corner broke off in the fire"), "lost crumbs"),
        (replace(piece(), mass_after=0.13, note="came in wet from the rain"), "wet stone"),
        (piece(core=0.0, calcium_carbonate=0.75, slaking="through"), "clay or other inert in the piece"),
        (piece(core=0.0, calcium_carbonate=0.40, slaking="through"), "weighed late"),
        (piece(core=0.0, calcium_carbonate=0.75, slaking="partly"), "weighed late"),
        (replace(piece(), mass_after=0.22, note="weighed late, the next day"), "weighed late"),
        (replace(piece(), mass_after=0.22, note="weighed next morning"), "weighed late"),
        (replace(piece(), mass_after=0.22, note="2 hours later"), "weighed late"),
        (replace(piece(), mass_after=0.25), "broken core"),
        (replace(piece(core=0.0), mass_after=0.25, note="core burst"), "broken core"),
    ],
)
def test_a_contradiction_is_laid_to_its_likeliest_cause(made, cause):
    found = compare_piece(made, **STONE)
    assert found.agree is False
    assert found.cause == cause
    assert found.evidence
    assert found.remedy
    assert all(words in found.verdict for words in ("they disagree", cause, found.evidence, found.remedy))


def test_the_water_that_would_explain_it_is_the_water_there_was():
    wet = piece(core=0.0, stone_moisture=0.06)
    assert "6.0 % of water" in compare_piece(wet, **STONE).evidence


def test_a_loss_past_pure_limestone_is_said_to_be_one():
    assert "44 %" in compare_piece(replace(piece(core=0.0), mass_after=0.16), **STONE).evidence


def test_a_loss_past_the_carbonate_is_found_without_a_core():
    found = compare_piece(replace(piece(), mass_after=0.163, core_size=None), **STONE)
    assert found.agree is None
    assert found.cause == "wet stone"
    assert "more than can burn" in found.verdict


@pytest.mark.parametrize("missing", ["mass_before", "mass_after", "core_size"])
def test_one_measure_alone_is_reported_and_compared_with_nothing(missing):
    found = compare_piece(replace(piece(), **{missing: None}), **STONE)
    assert (found.agree, found.cause) == (None, "")
    assert (found.by_weight is None) != (found.by_core is None)


def test_nothing_measured_is_said():
    assert "neither weighed nor broken open" in str(compare_piece(TrialPiece("7", 0.06, 3600.0)))


def test_at_the_edge_shares_come_out_as_quantities():
    assert compare_piece(piece()).by_weight.conversion.units.dimensionless
    assert isinstance(compare_piece.plain(piece()).by_weight.conversion, float)


@pytest.mark.parametrize(
    ("other", "cause"),
    [
        ({"calcium_carbonate": 0.55, "magnesium_carbonate": 0.40}, "magnesia or moisture in the whole stone"),
        ({"calcium_carbonate": 0.70}, "less carbonate in the whole stone"),
    ],
)
def test_where_all_pieces_err_alike_the_stone_is_suspected(other, cause):
    sizes = (0.03, 0.04, 0.05, 0.06)
    pieces = tuple(replace(piece(size, 0.2 * size, **other), name=str(size)) for size in sizes)
    assert {one.cause for one in compare_trial(Trial(pieces, Stone.plain(**STONE)))} == {cause}


def test_half_of_the_pieces_do_not_accuse_the_stone():
    made = [piece()] * 3 + [piece(stone_moisture=0.06)] * 3
    trial = Trial(tuple(replace(one, name=str(number)) for number, one in enumerate(made)), Stone.plain(**STONE))
    assert [one.cause for one in compare_trial(trial)] == [""] * 3 + ["wet stone"] * 3


def test_one_odd_piece_does_not_accuse_the_stone():
    pieces = [replace(piece(), name=str(number)) for number in range(4)] + [piece(stone_moisture=0.06)]
    found = compare_trial(Trial(tuple(pieces), Stone.plain(**STONE)))
    assert [one.cause for one in found] == [""] * 4 + ["wet stone"]


def test_evidence_is_told_in_grams_percent_and_millimetres():
    wet = compare_piece(replace(piece(), mass_after=0.13), **STONE)
    dry_weight = piece().mass_after / 0.995  # what it would weigh had it been dry, of 0.3 kg
    assert f"{100 * (1 - 0.13 / dry_weight):.1f} % of water" in wet.evidence
    assert f"or {1000 * (dry_weight - 0.13):.0f} g of it lost" in wet.evidence
    heavy = compare_piece(replace(piece(), mass_after=0.25), **STONE)
    assert f"{1000 * (0.25 - dry_weight):.0f} g more than a core of 30 mm allows" in heavy.evidence
    whole = compare_piece(replace(piece(core=0.0), mass_after=0.25, note="core burst"), **STONE)
    assert "more than lime without a core would" in whole.evidence


def test_the_least_water_is_that_of_the_smallest_core_the_ruler_allows():
    found = compare_piece.plain(replace(piece(size=0.03, core=0.02, mass=0.04), mass_after=0.020), **STONE)
    most_burnt = found.by_core.conversion_high
    lost = limekit.loss_on_ignition.plain(most_burnt * 0.94, 0.01)
    least = 1 - 0.020 / (0.04 * (1 - lost))
    assert f"({100 * least:.1f} % at the least)" in found.evidence


def test_stone_too_poor_in_carbonate_is_told_by_its_share():
    found = compare_piece(piece(core=0.0, calcium_carbonate=0.75, slaking="through"), **STONE)
    lost = 1 - (1 - 0.005) * (1 - limekit.loss_on_ignition.plain(0.75, 0.01))
    assert f"{100 * lost / 0.4397:.0f} % carbonate" in found.evidence


def test_two_pieces_are_too_few_to_accuse_the_stone():
    pieces = tuple(replace(piece(size, 0.2 * size, calcium_carbonate=0.70), name=str(size)) for size in (0.04, 0.06))
    assert {one.cause for one in compare_trial(Trial(pieces, Stone.plain(**STONE)))} == {"broken core"}
