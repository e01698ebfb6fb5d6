import csv
import re
import tomllib
from importlib import resources
from pathlib import Path

import pytest

from limekit.course import cards
from limekit.errors import InputError
from limekit.facts import TAGS

PYPROJECT = Path(__file__).parents[1] / "pyproject.toml"


def test_say_shows_the_same_as_markdown_and_as_text(capsys):
    cards.say("**56 kg**")
    assert "**56 kg**" in capsys.readouterr().out


class TestCautions:
    def test_every_row_is_whole_and_its_own(self):
        text = resources.files("limekit").joinpath("data/cautions.csv").read_text(encoding="utf-8")
        rows = list(csv.DictReader(text.splitlines()))
        assert len({row["key"] for row in rows}) == len(rows) == len(cards.caution_table())
        for row in rows:
            assert all(value for column, value in row.items() if column != "place")
            assert row["tag"] in TAGS

    def test_what_must_be_warned_of_is_there(self):
        said = repr(cards.cautions()).lower()
        for word in ("eyes", "carbon monoxide", "steam", "dust", "fire", "fall", "boil", "vinegar"):
            assert word in said, word

    def test_it_defers_to_those_on_the_spot(self):
        shown = cards.cautions("heat")
        assert "local codes" in repr(shown)
        assert "licensed" in shown._repr_html_()
        assert "role='note'" in shown._repr_html_()

    def test_only_what_was_asked_for(self):
        assert [one.key for one in cards.cautions("fire", "heat").shown] == ["fire", "heat"]

    def test_unknown_names_the_known(self):
        with pytest.raises(InputError, match="carbon_monoxide"):
            cards.cautions("dragons")


class TestMine:
    def test_own_file_comes_first(self, tmp_path, monkeypatch, capsys):
        monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
        (tmp_path / "my_kiln.toml").write_text("")
        assert cards.mine("my_kiln.toml", tmp_path) == tmp_path / "my_kiln.toml"
        assert "your own my_kiln.toml" in capsys.readouterr().out

    def test_a_test_can_force_the_example(self, tmp_path, monkeypatch):
        monkeypatch.setenv("LIMEKIT_RECORD", "example")
        (tmp_path / "my_kiln.toml").write_text("")
        assert cards.mine("my_kiln.toml", tmp_path).name == "my_kiln_example.toml"

    def test_without_a_file_of_ones_own_it_is_the_invented_example(self, tmp_path, monkeypatch, capsys):
        monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
        assert cards.mine("my_trial.csv", tmp_path).is_file()
        assert "invented" in capsys.readouterr().out

    def test_nothing_of_that_name(self, tmp_path):
        with pytest.raises(InputError, match="no such file"):
            cards.mine("my_dragon.toml", tmp_path)


class TestMyPlan:
    @pytest.fixture(autouse=True)
    def _own_files_count(self, monkeypatch):
        monkeypatch.delenv("LIMEKIT_RECORD", raising=False)

    @staticmethod
    def lay(folder, **files):
        for name, text in files.items():
            (folder / name.replace("_toml", ".toml").replace("_csv", ".csv")).write_text(text, encoding="utf-8")

    def test_with_nothing_of_ones_own_it_is_the_examples_trial_and_log_and_all(self, tmp_path, capsys):
        plan = cards.my_plan(tmp_path)
        assert plan.record.is_example
        assert plan.assessment is not None
        assert plan.lime.reactivity is not None
        assert capsys.readouterr().out.count("invented example") == 3

    def test_the_examples_trial_and_slaking_do_not_speak_for_a_stone_of_ones_own(self, tmp_path, capsys):
        self.lay(tmp_path, my_kiln_toml="[stone]\ncalcium_carbonate = 0.9\n")
        plan = cards.my_plan(tmp_path)
        assert plan.assessment is None
        assert plan.lime.reactivity is None
        said = capsys.readouterr().out
        for name in cards.TELLING:
            assert f"No {name} of yours is here" in said

    def test_a_kiln_of_ones_own_for_the_examples_stone_is_planned_by_the_examples_trial(self, tmp_path):
        self.lay(tmp_path, my_kiln_toml='[kiln]\nlargest_stone = "70 mm"\n')
        assert cards.my_plan(tmp_path).assessment is not None

    def test_a_trial_and_a_log_of_ones_own_speak_for_it(self, tmp_path, capsys):
        told = {
            name: (cards.DATA / name.replace("my_", "").replace(".", "_example.")).read_text() for name in cards.TELLING
        }
        self.lay(tmp_path, my_kiln_toml='[stone]\nname = "my own"\n', **told)
        plan = cards.my_plan(tmp_path)
        assert plan.assessment is not None
        assert plan.lime.reactivity is not None
        assert capsys.readouterr().out.count("Reading your own") == 3

    def test_a_test_can_force_the_example(self, tmp_path, monkeypatch):
        monkeypatch.setenv("LIMEKIT_RECORD", "example")
        self.lay(tmp_path, my_kiln_toml="[stone]\ncalcium_carbonate = 0.9\n")
        assert cards.my_plan(tmp_path).assessment is not None


class TestMachineCheck:
    def test_here_it_is_ready_and_says_so_in_one_stable_sentence(self):
        found = cards.machine_check()
        assert repr(found) == "This machine is ready: everything the course needs is here."
        assert "plotly" in found._repr_html_()

    def test_what_is_missing_is_named(self):
        found = cards.MachineCheck({"Python": "3.12", "plotly": None}, can_write=False)
        assert found.missing[0] == "plotly"
        assert "not ready" in repr(found)
        assert "saved" in repr(found)
        assert "missing" in found._repr_html_()

    def test_it_looks_for_what_the_package_depends_on(self):
        listed = tomllib.loads(PYPROJECT.read_text(encoding="utf-8"))["project"]["dependencies"]
        assert set(cards.NEEDED) <= {re.match(r"[\w-]+", one)[0] for one in listed}
