"""What you may be burning: chalk, marble, shells and the rest, each told what to expect of it."""

import pytest

from limekit import Plan, read_trial
from limekit.course import my_plan
from limekit.course.lessons import know_your_stone as lesson
from limekit.errors import RecordError
from limekit.grading import judge_stone
from limekit.limestone import MADE_OF, Stone, stone_kinds
from limekit.plan.plan import EXAMPLES, KITS, SUCH_STONES, YOURS
from limekit.records.kiln_record import Record

KINDS = ("hard limestone", "chalk", "marble", "dolomite", "clayey stone", "shell", "coral")


def plan(folder, stone):
    path = folder / "my_kiln.toml"
    path.write_text(f"[stone]\n{stone}\n", encoding="utf-8")
    return Plan.of(path)


def test_the_kinds_that_are_burnt_are_known():
    assert set(stone_kinds()) == set(KINDS)


@pytest.mark.parametrize("name", KINDS)
def test_a_record_that_tells_the_kind_alone_is_of_such_stone(name, tmp_path):
    kind, told = stone_kinds()[name], plan(tmp_path, f'stone_kind = "{name}"')
    made = told.plain
    assert {one: made.decided.get(one) for one in (*MADE_OF, "density", "charge_fines")} == pytest.approx(kind.figures)
    assert made.decided.get("clay") is None, "nobody has analysed it"
    assert (told.whose("density"), told.whose("clay"), told.whose("largest_stone")) == (SUCH_STONES, KITS, EXAMPLES)
    assert kind.in_the_fire in " ".join(told.remarks)
    assert kind.slaking in told.of_such_stone("slaking")
    assert "[" in told.of_such_stone("in_the_fire"), "with its basis"


def test_what_its_owner_found_of_it_comes_first(tmp_path):
    own = plan(tmp_path, 'stone_kind = "dolomite"\ncalcium_carbonate = 0.7')
    assert own.plain.decided.get("calcium_carbonate") == 0.7
    assert own.plain.decided.get("magnesium_carbonate") == pytest.approx(0.3), "no more than the rest"
    assert own.whose("calcium_carbonate") == YOURS


def test_a_make_up_without_its_kind_is_not_taken_for_the_examples_kind(tmp_path):
    own = plan(tmp_path, "calcium_carbonate = 0.9")
    assert own.record.stone_kind is None
    assert "does not say" in own.of_such_stone("slaking")


def test_a_kind_that_is_not_known_is_named_with_the_nearest(tmp_path):
    with pytest.raises(RecordError, match='stone_kind = "marble"'):
        plan(tmp_path, 'stone_kind = "marbel"')


def test_what_the_kinds_are_known_for_comes_out_in_the_sums(tmp_path):
    keeping = {
        name: judge_stone.plain(*(kind.figures[one] for one in MADE_OF[:2])).keeping.way
        for name, kind in stone_kinds().items()
    }
    assert keeping["dolomite"] == "late putty"
    assert keeping["clayey stone"] == "analysis first"
    assert {keeping[name] for name in set(KINDS) - {"dolomite", "clayey stone"}} == {"putty"}
    assert stone_kinds()["chalk"].figures["density"] < 1700 < Stone.plain().density, "Meigh and Early 1957"
    whole, crumbling = (plan(tmp_path, f'stone_kind = "{name}"').plain.firing for name in ("hard limestone", "shell"))
    assert crumbling.firing_time > whole.firing_time, "crumbs choke the draught"


def test_the_first_lesson_asks_for_the_kind_and_keeps_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    explorer = lesson.stone_explorer(my_plan())
    for name, kind in stone_kinds().items():
        explorer.controls["stone_kind"].value = name
        assert not explorer.error
        assert kind.in_the_fire in explorer.sentence
    assert explorer.values["calcium_carbonate"] == pytest.approx(kind.figures["calcium_carbonate"])
    explorer.keep()
    assert Record.load(tmp_path / "my_kiln.toml").stone_kind is kind


@pytest.mark.parametrize("shape", ["slab", "shell"])
def test_of_a_thin_piece_the_thickness_is_wanted(shape, tmp_path):
    sheet = tmp_path / "my_trial.csv"
    head = "piece,largest_size [mm],smallest_size [mm],time_in_heat [min],core_size [mm],shape\n"
    sheet.write_text(f"{head}1,60,,30,0,{shape}\n")
    with pytest.raises(RecordError, match=f"row 2, column smallest_size: none; a {shape} burns by its thickness"):
        read_trial(sheet)
    sheet.write_text(f"{head}1,60,6,30,0,{shape}\n2,60,,30,0,lump\n")
    thin, lump = read_trial(sheet).pieces
    assert thin.diameter < lump.diameter
