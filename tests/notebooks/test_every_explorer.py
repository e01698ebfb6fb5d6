"""Every explorer, as its notebook makes it, driven from end to end with no browser."""

import json
import re
from pathlib import Path

import numpy as np
import plotly.graph_objects as go
import pytest

from limekit.course.explorer import Explorer

MINUS_NOUGHT = re.compile(r"(?<![\w.])[-−]0(?:\.0+)?(?![.\d])")
NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


@pytest.fixture(scope="module", params=NOTEBOOKS, ids=lambda path: path.stem)
def explorers(request, tmp_path_factory):
    """Those of one notebook, run once in a folder of its own."""
    made, make = [], Explorer.__init__

    def remember(self, *args, **kwargs):
        make(self, *args, **kwargs)
        made.append(self)

    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp(request.param.stem))
        patch.setenv("LIMEKIT_RECORD", "example")
        patch.setattr(Explorer, "__init__", remember)
        namespace = {}
        for cell in json.loads(request.param.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                exec("".join(cell["source"]), namespace)
        yield made


def ends(control):
    return (control.min, control.max) if hasattr(control, "min") else [value for _, value in control.options]


def numbers(trace):
    held = [trace[key] for key in ("x", "y", "z", "values") if key in trace and trace[key] is not None]
    return np.array([one for part in held for one in np.ravel(part) if isinstance(one, (int, float, np.number))], float)


def put_up(picture):
    """What the page is given when a picture is put up anew, once plotly has checked it."""
    told = json.loads(go.Figure(picture).to_json())
    told["layout"].pop("autosize", None)
    for trace in told["data"]:
        trace.pop("uid", None)
    return told


def answers(explorer):
    assert "fault in the kit" not in explorer.error, explorer.error
    assert bool(explorer.error) != bool(explorer.sentence)
    shown = [
        explorer.sentence,
        *(explorer.table(explorer.result).astype(str).to_numpy().flat if explorer.table else ()),
    ]
    assert not {"nan", "inf"} & set(explorer.sentence.lower().split())
    assert not list(filter(MINUS_NOUGHT.search, shown))
    assert any(np.isfinite(numbers(trace)).any() for trace in explorer.figure.data)
    if not explorer.error:
        assert put_up(explorer.figure) == put_up(explorer._compute()[0]), "changed in place, it looks otherwise"
    return explorer.sentence


def drive(explorer):
    for name, control in explorer.controls.items():
        said = {explorer.sentence}
        for end in ends(control):
            control.value = end
            said.add(answers(explorer))
        explorer.reset()
        assert len(said) > 1, f"{name} moves no word"
    for case in explorer.presets:
        explorer.preset.value = case
        answers(explorer)
        assert not explorer.error, f"{case}: {explorer.error}"
        nudged = next(control for control in explorer.controls.values() if control.value != ends(control)[0])
        nudged.value = ends(nudged)[0]
        assert explorer.preset.value == "", f"{case} stays shown when its controls are moved"
    if explorer.table:
        assert len(explorer.table(explorer.result))


def test_every_control_case_and_table_answers_and_nothing_is_written(explorers):
    for explorer in explorers:
        drive(explorer)
    assert not list(Path.cwd().iterdir())


def test_every_answer_that_can_be_kept_is_kept(explorers):
    for explorer in filter(lambda one: one.keeps, explorers):
        explorer.reset()
        explorer.keep_button.click()
        assert 'role="status"' in explorer._note.value, explorer._note.value
        assert Path("my_kiln.toml").is_file()
