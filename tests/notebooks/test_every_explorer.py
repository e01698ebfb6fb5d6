"""Every explorer, as its notebook makes it, driven from end to end with no browser."""

import json
import re
from collections import Counter
from pathlib import Path

import numpy as np
import plotly.graph_objects as go
import pytest

from limekit.course.explorer import Explorer
from limekit.pictures import looks

MOST_ENTRIES = 4  # of a legend; what has more names its parts in place
RGBA = re.compile(r"rgba\((\d+),(\d+),(\d+),")
MEANT = {  # what a trace's name says, and the colour that has to go with it
    r"carbon dioxide": looks.GAS,
    r"steam": looks.WATER,
    r"^(oxygen|nitrogen)": looks.AIR,
    r"^(quicklime|putty|share burnt|good lime)$": looks.LIME,
    r"^(fuel the draught can burn|wood and charcoal)$": looks.WOOD,
    r"°C, (nine|middle)": looks.FIRE,
}
NO_LEGEND = ("heatmap", "contour")
NAMED = {looks.PAPER, looks.INK, looks.MUTED, looks.GRID, looks.PALE, looks.WHITE_LIME, looks.SLAB, looks.LOG}
NAMED |= {colour for colour, _ in looks.MEANS.values()} | {*looks.SHADES}
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
    """What the page is given of a picture, once plotly has checked it."""
    return json.loads(go.Figure(picture).to_json())


def reach(layout, name):
    """The two ends of an axis as they are written, or none where it makes its own."""
    axis = layout[name.replace("x", "xaxis", 1).replace("y", "yaxis", 1)]
    ends = axis.range or ()
    return [10**end for end in ends] if axis.type == "log" else ends


def lies_between(value, ends):
    if isinstance(value, (int, float, np.number)):
        low, high = sorted(map(float, ends))
        return not np.isfinite(value) or low - 1e-6 * (high - low) <= value <= high + 1e-6 * (high - low)
    low, high = sorted(map(str, ends))  # a date, as plotly is given it, or the name of a category, which has no end
    return isinstance(ends[0], (int, float)) or low <= str(value) <= high


def off_the_picture(figure):
    """Yield every marker that its axes do not reach, and every one chosen that the curves it runs along do not."""
    scatters = [trace for trace in figure.data if trace.type == "scatter" and trace.visible is not False]
    for trace in (one for one in scatters if "markers" in (one.mode or "")):
        for letter in "xy":
            ends, held = reach(figure.layout, trace[f"{letter}axis"] or letter), trace[letter]
            yield from (
                f"{trace.name}: {letter} {value} off {ends}"
                for value in (() if held is None or not len(ends) else held)
                if value is not None and not lies_between(value, ends)
            )
        lines = [one for one in scatters if one.mode == "lines" and one.xaxis == trace.xaxis and None not in [*one.x]]
        curves = [numbers({"x": one.x}) for one in lines]
        along = np.concatenate([*(xs for xs in curves if len(set(xs)) > 2), []])
        if looks.CHOSEN.items() <= trace.marker.to_plotly_json().items() and along.size:
            past = [x for x in numbers({"x": trace.x}) if not lies_between(x, (np.nanmin(along), np.nanmax(along)))]
            yield from (f"{trace.name}: {x} past its curves" for x in past)


def colours(trace):
    """Yield every colour of a trace, without the paper shining through it."""
    told = trace.to_plotly_json()
    for part in (told, told.get("line", {}), told.get("marker", {}), told.get("marker", {}).get("line", {})):
        for key in ("color", "fillcolor"):
            given = part.get(key)
            for one in given if isinstance(given, (list, tuple, np.ndarray)) else [given]:
                if isinstance(one, str):
                    seen = RGBA.match(one)
                    yield "#" + "".join(f"{int(part):02x}" for part in seen.groups()) if seen else one


def amiss(figure):
    """Yield what of a picture has no named colour, not the colour of what it is named for, or too long a legend."""
    entries = Counter()
    for trace in figure.data:
        found = set(colours(trace))
        if trace.name != "computed colour":  # of glowing stone, which is measured
            yield from (f"{trace.name}: {one} has no name" for one in found - NAMED)
        for words, colour in MEANT.items():
            if trace.name and re.search(words, trace.name) and found and colour not in found | {looks.PALE}:
                yield f"{trace.name}: {found} where {colour} is meant"
        is_listed = trace.showlegend is not False and trace.visible is not False and trace.type not in NO_LEGEND
        if is_listed and trace.name and figure.layout.showlegend is not False:
            entries[trace.legend or "legend"] += 1
    yield from (f"{legend} of {count}" for legend, count in entries.items() if count > MOST_ENTRIES)


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
        assert list(off_the_picture(explorer.figure)) == [], explorer.values
        assert list(amiss(explorer.figure)) == [], explorer.values
    return explorer.sentence


def drive(explorer):
    for name, control in explorer.controls.items():
        said = {explorer.sentence}
        for end in ends(control):
            control.value = end
            said.add(answers(explorer))
        explorer.reset()
        assert len(said) > 1, f"{name} moves no word"
    for place in (0, -1):
        explorer._move({name: ends(control)[place] for name, control in explorer.controls.items()})
        answers(explorer)
    for case in explorer.presets:
        explorer.preset.value = case
        answers(explorer)
        assert not explorer.error, f"{case}: {explorer.error}"
        nudged = next(control for control in explorer.controls.values() if control.value != ends(control)[0])
        nudged.value = ends(nudged)[0]
        assert explorer.preset.value == "", f"{case} stays shown when its controls are moved"
    if explorer.table:
        assert len(explorer.table(explorer.result))


@pytest.mark.parametrize(("x", "said"), [(250, ["off", "past"]), (204, ["past"]), (190, [])])
def test_a_marker_off_the_picture_is_found(x, said):
    figure = go.Figure()
    figure.add_scatter(x=[20, 100, 200], y=[1, 5, 20], mode="lines")
    figure.add_scatter(x=[x], y=[20], mode="markers", marker=looks.CHOSEN, name="your stone")
    figure.update_xaxes(range=[0, 204])
    found = list(off_the_picture(figure))
    assert len(found) == len(said)
    assert all(word in one for word, one in zip(said, found, strict=True))


def test_a_colour_without_a_name_or_meaning_and_a_long_legend_are_found():
    figure = go.Figure()
    figure.add_scatter(name="steam", line={"color": looks.FIRE})
    figure.add_scatter(name="steam", fillcolor=looks.veil("#123456"), line={"color": looks.WATER})
    assert len(list(amiss(figure))) == 2
    for name in "abc":
        figure.add_scatter(name=name)
    assert "legend of 5" in list(amiss(figure))


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
