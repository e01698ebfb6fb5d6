import importlib
import itertools
import json
import math
import re
from pathlib import Path
from types import CodeType

import pytest

import limekit
from limekit import units
from limekit.course.checks import (
    PERCENT,
    THE_REST,
    UPSIDE_DOWN,
    Exercise,
    Slip,
    check,
    exercises,
)
from limekit.errors import InputError

NOTEBOOKS = sorted((Path(__file__).parents[1] / "notebooks").glob("*.ipynb"))
LESSON = re.compile(r"from limekit\.course\.lessons import (\w+)(?: as (\w+))?")
ASKED = re.compile(r"check\((\w+)\.(\w+)")
LEAST = 3
THING = pytest.param(object(), id="a thing")
NONSENSE = ["banana", "", True, [1], THING, "5 tons", "1,5 kg", float("nan"), float("inf"), "12 parsnips", b"5"]
NAMED = exercises()
ALL = [pytest.param(exercise, id=name) for name, exercise in NAMED.items()]

heat = Exercise(
    "How hot?",
    lambda: limekit.dissociation_temperature(co2_pressure="1 atm"),
    "degC",
    shown=".0f",
)
share = Exercise("What share?", lambda: limekit.loss_on_ignition(1.0), slips=(PERCENT, THE_REST, UPSIDE_DOWN))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_every_lesson_asks_at_least_three_and_all_it_has(path):
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    modules = {called or module: module for module, called in LESSON.findall(code)}
    asked = [f"{modules[called]}.{name}" for called, name in ASKED.findall(code)]
    assert len(asked) >= LEAST
    assert set(asked) == {name for name in NAMED if name.partition(".")[0] in modules.values()}
    assert len(set(asked)) == len(asked)


def spoken(exercise):
    """Return all that is said before an answer is right."""
    return " ".join((exercise.question, exercise.hint, *(slip.reason for slip in exercise.slips)))


def says(exercise, verdict):
    return verdict.state == "not right" and any(
        verdict.text == f"Not right, because {slip.reason}." for slip in exercise.every_slip
    )


@pytest.mark.parametrize("exercise", [*ALL, heat, share])
class TestEveryExercise:
    def test_right_is_right(self, exercise):
        right = exercise.right()
        assert math.isfinite(right)
        verdict = check(exercise, f"{right!r} {exercise.unit}")
        assert verdict.state == "right"
        assert exercise.write(right) in verdict.text

    def test_what_the_kit_writes_is_taken_as_right(self, exercise):
        shown = f"{exercise.right():{exercise.shown}} {exercise.unit}"
        assert check(exercise, shown).state == "right", f"the answer as shown, {shown}, is outside the tolerance"

    def test_every_slip_is_caught_with_its_own_reason_also_when_rounded(self, exercise):
        for slip in exercise.slips:
            wrong = float(slip.gives(exercise.right()))
            for given in (f"{wrong!r}", f"{wrong:.3g}"):
                assert check(exercise, f"{given} {exercise.unit}").text == f"Not right, because {slip.reason}."

    def test_no_slip_can_be_taken_for_the_right_answer_or_for_another(self, exercise):
        right = exercise.right()
        values = [right, *(slip.gives(right) for slip in exercise.slips)]
        for one, other in itertools.permutations(values, 2):
            assert not exercise.is_near(one, other), f"{one} and {other} cannot be told apart"
        assert not any(exercise.is_near(slip.gives(right), right) for slip in exercise.every_slip)
        assert len({slip.reason for slip in exercise.slips}) == len(exercise.slips)

    def test_a_thousandfold_a_thousandth_and_the_wrong_sign_are_named(self, exercise):
        right = exercise.right()
        for wrong in (1000 * right, right / 1000, -right):
            assert says(exercise, check(exercise, f"{wrong!r} {exercise.unit}"))

    def test_a_temperature_in_the_other_scale_is_named(self, exercise):
        if exercise.unit == "degC":
            right = exercise.right()
            assert says(exercise, check(exercise, f"{right + 273.15!r} degC"))
            assert says(exercise, check(exercise, f"{right!r} K"))

    def test_a_percentage_where_a_share_is_asked_is_named(self, exercise):
        if not exercise.unit and re.search(r"what (share|chance)|as a share", exercise.question, re.IGNORECASE):
            assert says(exercise, check(exercise, 100 * exercise.right()))
            assert check(exercise, f"{100 * exercise.right()!r} %").state == "right"

    def test_another_kind_of_quantity_is_refused(self, exercise):
        right = exercise.right()
        mine = units.quantity(f"1 {exercise.unit}")
        others = [
            one for one in ("kg", "m^2", "h", "delta_degC") if not mine.is_compatible_with(units.quantity(f"1 {one}"))
        ]
        swap = {"degC": "delta_degC", "delta_degC": "degC"}
        for other in (*others, *filter(None, [swap.get(exercise.unit)])):
            with pytest.raises(InputError, match="your answer"):
                check(exercise, f"{right!r} {other}")

    def test_a_bare_number_is_refused_where_a_unit_is_wanted(self, exercise):
        right = exercise.right()
        for given, why in ((right, "no unit"), (f"{right!r}", "no unit"), (f"{100 * right!r} %", "%")):
            if exercise.unit:
                with pytest.raises(InputError, match=why):
                    check(exercise, given)
            else:
                assert check(exercise, given).state == "right"

    def test_neither_question_nor_hint_nor_reason_says_the_answer(self, exercise):
        number = re.escape(f"{exercise.right():{exercise.shown}}")
        assert not re.search(rf"(?<![\d.]){number}(?!\.?\d)", spoken(exercise))

    @pytest.mark.parametrize("empty", [None, ..., "", "  "])
    def test_none_is_not_yet(self, exercise, empty):
        assert check(exercise, empty).state == "not yet"

    @pytest.mark.parametrize("given", [one for one in NONSENSE if one != ""], ids=repr)
    def test_nonsense_teaches(self, exercise, given):
        with pytest.raises(InputError, match="your answer"):
            check(exercise, given)

    def test_a_wrong_answer_does_not_give_the_right_one_away(self, exercise):
        right = exercise.right()
        for wrong in (right * 1.3, right * 0.7, None):
            text = repr(check(exercise, None if wrong is None else f"{wrong!r} {exercise.unit}"))
            assert exercise.write(right) not in text


def names_read(code, module, seen=frozenset()):
    """Yield the module's names that an answer reads, itself or through the module's own functions."""
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from names_read(inner, module, seen)
    for name in set(code.co_names) & vars(module).keys() - seen:
        yield name
        known = getattr(module, name)
        if getattr(known, "__module__", None) == module.__name__ and hasattr(known, "__code__"):
            yield from names_read(known.__code__, module, seen | {name})


def a_little_less(known):
    if isinstance(known, str):
        return re.sub(r"\d+(\.\d+)?", lambda found: f"{0.99 * float(found.group())!r}", known, count=1)
    if isinstance(known, tuple):
        return (*known[:-1], 0.99 * known[-1])
    return 0.99 * known


@pytest.mark.parametrize("name", NAMED)
def test_an_answer_is_computed_and_moves_with_its_figures(name, monkeypatch):
    exercise = NAMED[name]
    module = importlib.import_module(f"limekit.course.lessons.{name.partition('.')[0]}")
    read = {one: getattr(module, one) for one in names_read(exercise.answer.__code__, module)}
    own = {one for one in read if one.isupper() and not hasattr(units, one)}
    figures = {one: read[one] for one in own if isinstance(read[one], (float, int, str, tuple))}
    kit = [one for one in read.values() if (getattr(one, "__module__", None) or "").startswith("limekit.")]
    assert figures or kit, "the answer is typed"
    before, moved = exercise.right(), []
    for figure, known in figures.items():
        with monkeypatch.context() as patched:
            patched.setattr(module, figure, a_little_less(known))
            moved.append(not math.isclose(exercise.right(), before, rel_tol=1e-6))
    assert any(moved) or not figures, f"none of {', '.join(figures)} changes the answer"


def test_other_units_and_quantities_are_taken():
    assert check(heat, "1169 K").state == "right"
    assert check(heat, "1644 degF").state == "right"
    assert check(heat, limekit.dissociation_temperature()).state == "right"
    assert check(share, "44 %").state == "right"
    assert check(share, 0.44).state == "right"


def test_a_number_with_no_unit_is_asked_for_it():
    with pytest.raises(InputError, match="no unit"):
        check(heat, 896)


def test_a_difference_is_not_taken_for_a_level():
    with pytest.raises(InputError, match="difference"):
        check(heat, "896 delta_degC")


def test_too_high_and_too_low_are_told_apart_with_the_hint():
    exercise = Exercise("?", lambda: 10.0, hint="Count your fingers.")
    assert check(exercise, 11).text == "Not right, because it is too high. Count your fingers."
    assert "too low" in check(exercise, 9).text


def test_text_is_escaped():
    exercise = Exercise("<script>", lambda: 1.0, slips=(Slip("<b>", lambda right: 2.0),))
    shown = check(exercise, 2)._repr_html_()
    assert "<script>" not in shown
    assert "&lt;b&gt;" in shown
