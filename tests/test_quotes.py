"""An answer typed without its quotation marks is met with help, and nothing else is."""

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

from limekit.course import quotes


@pytest.mark.parametrize(
    ("line", "given"),
    [
        ("answer = 50 °C", "50 °C"),
        ('answer = 50 kg  # with its unit, such as "12 kg"', "50 kg"),
        ("answer = 25 %", "25 %"),
        ("  answer=1.5 m^3", "1.5 m^3"),
        ("answer = -12 delta_degC", "-12 delta_degC"),
        ("largest_stone = 80mm", "80mm"),
    ],
)
def test_a_figure_with_a_bare_unit_is_shown_in_quotation_marks(line, given):
    assert f'= "{given}"\n' in quotes.help_with(line)


@pytest.mark.parametrize(
    "line",
    [
        "",
        "answer = 12",
        "answer = 5 +",
        "answer = (",
        "print(5 kg)",
        "for x in y",
        "answer = 5 kg" + " " * 200,
        "a = 1 'x",
    ],
)
def test_another_slip_is_left_to_the_notebook_s_own_words(line):
    assert quotes.help_with(line) == ""


@pytest.fixture
def shell():
    made = InteractiveShell()
    yield made
    made.set_custom_exc((), None)


def ran(shell, text):
    with capture_output() as caught:
        found = shell.run_cell(text)
    return found, caught.stdout + caught.stderr


def test_the_notebook_says_both_its_own_message_and_the_help(shell, monkeypatch):
    monkeypatch.setattr("IPython.get_ipython", lambda: shell)
    quotes.offer_help()
    quotes.offer_help()
    found, said = ran(shell, "first = 1\nanswer = 50 °C  # with its unit\nlast = 2")
    assert isinstance(found.error_before_exec, SyntaxError)
    assert "SyntaxError" in said
    assert said.count('answer = "50 °C"') == 1
    for text in ("def (", "  x = 1\n y", "answer = 12 kg kg +"):
        found, said = ran(shell, text)
        assert found.error_before_exec
        assert "quotation marks" not in said
    assert ran(shell, "1 / 0")[0].error_in_exec.__class__ is ZeroDivisionError
    assert "ZeroDivisionError" in ran(shell, "1 / 0")[1]
    assert ran(shell, 'answer = "50 °C"')[0].success


def test_a_reader_s_own_way_with_errors_is_left_alone(shell, monkeypatch):
    told = []
    shell.set_custom_exc((SyntaxError,), lambda *_, **__: told.append("mine"))
    monkeypatch.setattr("IPython.get_ipython", lambda: shell)
    quotes.offer_help()
    ran(shell, "answer = 50 kg")
    assert told == ["mine"]


def test_without_a_notebook_there_is_nothing_to_do(monkeypatch):
    monkeypatch.setattr("IPython.get_ipython", lambda: None)
    quotes.offer_help()
    monkeypatch.delitem(quotes.sys.modules, "IPython")
    quotes.offer_help()
