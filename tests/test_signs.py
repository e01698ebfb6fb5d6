"""Signs of the burning: every word has its row, and the rules do what they say."""

import itertools
import typing

import pytest

import limekit
from limekit import facts
from limekit.errors import InputError
from limekit.stone import signs

SEEN = {
    "core": ("none", "small", "large", "most"),
    "weight": ("full", "short"),
    "heft": typing.get_args(signs.Heft)[1:],
    "sound": typing.get_args(signs.Sound)[1:],
    "slaking": typing.get_args(signs.Slakes)[1:],
    "skin": typing.get_args(signs.Skin)[1:],
    "plaster": typing.get_args(signs.Plaster)[1:],
}


def test_every_word_that_can_be_seen_has_exactly_one_plain_row():
    plain = [(row.look, row.seen) for row in limekit.burn_signs() if not row.given and row.look != "burn"]
    assert sorted(plain) == sorted((look, what) for look, words in SEEN.items() for what in words)


def test_rows_are_whole():
    for row in limekit.burn_signs():
        assert row.tag in facts.TAGS
        assert row.source
        assert row.sign
        assert row.means in {"under", "over", "right", "check", "uneven"}
        assert " ".join(row.changes) == row.change, "every change is a sentence with no full stop inside"
        if row.given:
            look, what = row.given.split()
            assert what in SEEN[look]


def test_signs_of_both_faults_and_of_neither_are_there():
    means = [row.means for row in limekit.burn_signs()]
    assert all(means.count(mean) >= 4 for mean in ("under", "over", "right"))


def test_the_core_allowed_is_the_one_that_holds_four_per_cent_of_gas():
    # reference: 4 % carbon dioxide left, core 0.38 of the diameter, loss 41.6 % (computed, pure stone).
    share = signs.unburnt_allowed()
    assert share ** (1 / 3) == pytest.approx(0.38, abs=0.005)
    balance = limekit.mass_balance("100 kg", calcium_carbonate=1.0, conversion=1.0 - share)
    assert balance.carbon_dioxide_left.m == pytest.approx(0.04)
    assert balance.carbon_dioxide.m_as("kg") == pytest.approx(41.6, abs=0.05)


@pytest.mark.parametrize(
    ("seen", "verdict"),
    [
        ({"core_ratio": 0.0}, "burnt enough"),
        ({"core_ratio": 0.37}, "burnt enough"),
        ({"core_ratio": 0.38}, "under-burnt"),
        ({"conversion": 0.95}, "burnt enough"),
        ({"conversion": 0.94}, "under-burnt"),
        ({"slakes": "partly"}, "under-burnt"),
        ({"slakes": "not"}, "under-burnt"),
        ({"slakes": "not", "core_ratio": 0.0}, "over-burnt"),
        ({"heft": "heavy"}, "under-burnt"),
        ({"heft": "heavy", "core_ratio": 0.0, "skin": "shrunken"}, "over-burnt"),
        ({"slakes": "late"}, "over-burnt"),
        ({"plaster": "pops", "slakes": "quick"}, "over-burnt"),
        ({"skin": "glassy", "core_ratio": 0.6}, "unevenly burnt"),
        ({"core_ratio": 0.1, "slakes": "quick", "skin": "clean", "heft": "light"}, "rightly burnt"),
        ({"core_ratio": 0.0, "sound": "ring"}, "burnt enough"),
        ({"core_ratio": 0.0, "sound": "ring", "heft": "heavy"}, "over-burnt"),
        ({"core_ratio": 0.5, "sound": "thud", "heft": "heavy"}, "under-burnt"),
        ({"core_ratio": 1.0, "slakes": "quick", "heft": "light", "sound": "ring", "skin": "clean"}, "look again"),
        ({"core_ratio": 0.0, "slakes": "partly"}, "look again"),
        ({"heft": "light", "slakes": "not"}, "look again"),
    ],
)
def test_verdicts(seen, verdict):
    assert limekit.diagnose(**seen).verdict == verdict


def test_a_rightly_burnt_lime_asks_for_no_change():
    assert limekit.diagnose(core_ratio=0.0, slakes="quick").changes == ("Burn the next one the same way.",)


def test_under_and_over_burnt_ask_for_opposite_things():
    under, over = (" ".join(limekit.diagnose(slakes=word).changes) for word in ("partly", "late"))
    assert "longer; not hotter" in under
    assert "less hot" in over
    assert "longer" not in over


@pytest.mark.parametrize(
    ("seen", "asked"),
    [({"core_ratio": 0.0, "conversion": 0.8}, "loss on ignition"), ({"core_ratio": 0.7, "conversion": 0.99}, "Dry")],
)
def test_weight_and_core_that_disagree_ask_for_a_check_first(seen, asked):
    found = limekit.diagnose(**seen)
    assert found.verdict == "look again"
    assert asked in found.changes[0]


def test_no_change_is_said_twice_and_no_sign_is_lost():
    for heft, slakes, skin, plaster in itertools.product(
        *(SEEN[key] for key in ("heft", "slaking", "skin", "plaster"))
    ):
        found = signs.diagnose.plain(0.0, None, heft, slakes, skin, plaster)
        assert len(found.signs) == 5
        assert found.changes
        assert len(set(found.changes)) == len(found.changes)


def test_the_result_says_what_each_sign_rests_on():
    found = limekit.diagnose(slakes="quick", skin="glassy")
    assert [(ground.name, ground.value) for ground in found.basis] == [("slaking", "quick"), ("skin", "glassy")]
    assert "ASTM C5" in found.basis[0].source
    assert found.basis[1].kind == "common practice"
    assert str(found).startswith("over-burnt: starts to slake within five minutes; a glassy")


def test_nothing_seen_and_unknown_words_are_refused():
    with pytest.raises(InputError, match="one sign at least"):
        limekit.diagnose()
    with pytest.raises(InputError, match="glassy"):
        limekit.diagnose(skin="glasy")
    with pytest.raises(InputError, match="core_ratio"):
        limekit.diagnose(core_ratio=1.5)
