import math

import pytest

import limekit
from limekit.course.checks import (
    KELVIN_AS_CELSIUS,
    PERCENT,
    THE_REST,
    UPSIDE_DOWN,
    WRONG_SIGN,
    Exercise,
    Slip,
    check,
    exercises,
)
from limekit.errors import InputError

NONSENSE = ["banana", "", True, [1], object(), "5 tons", "1,5 kg", float("nan"), float("inf"), "12 parsnips", b"5"]
ALL = [pytest.param(exercise, id=name) for name, exercise in exercises().items()]

heat = Exercise(
    "How hot?",
    lambda: limekit.dissociation_temperature(co2_pressure="1 atm"),
    "degC",
    slips=(KELVIN_AS_CELSIUS,),
    shown=".0f",
)
share = Exercise(
    "What share?", lambda: limekit.loss_on_ignition(1.0), slips=(PERCENT, THE_REST, WRONG_SIGN, UPSIDE_DOWN)
)


def test_there_are_exercises():
    assert ALL


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

    def test_every_slip_is_caught_with_its_reason(self, exercise):
        for slip in exercise.slips:
            verdict = check(exercise, f"{slip.gives(exercise.right())!r} {exercise.unit}")
            assert verdict.state == "not right"
            assert slip.reason in verdict.text

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
