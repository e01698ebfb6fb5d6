"""The short file of a workshop: read whole or refused with every fault."""

import datetime

import pytest

from limekit.errors import InputError, RecordError
from limekit.facts import fact
from limekit.records.examples import example_path
from limekit.records.workshop_file import EXAMPLE, read_workshop, write_workshop_example

LEAST = 'first_day = "2028-06-03"\npeople = 6\n'


@pytest.fixture
def told(tmp_path):
    def read(more="", least=LEAST):
        path = tmp_path / "my_workshop.toml"
        path.write_text(least + more, encoding="utf-8")
        return read_workshop(path)

    return read


def test_the_least_is_a_day_and_a_number(told):
    read = told()
    assert (read.first_day, read.people[-1], read.ready) == (datetime.date(2028, 6, 3), "learner 6", "trial only")
    assert (read.start, read.van_load, read.lit) == ("09:00", fact("van_load"), None)


def test_people_who_are_counted_are_told_apart(told):
    read = told("teachers = 2\nstokers = 5\n")
    assert len(set(read.everybody)) == 6 + 2 + 5
    assert (read.teachers[-1], read.stokers[-1]) == ("teacher 2", "stoker 5")


def test_every_key_of_the_example_is_read(told):
    read = read_workshop(example_path(EXAMPLE))
    assert (read.first_aider, read.van_load, len(read.people)) == ("Juniper", 700.0, 8)
    more = told('lit = "2028-05-20 06:00"\nready = "kiln burnt"\nleave_out = [6, "draught"]\nswap = [["a", "b"]]\n')
    assert (more.lit, more.leave_out, more.swap) == (
        datetime.datetime(2028, 5, 20, 6),
        ("06", "draught"),
        (("a", "b"),),
    )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("people = 0", "names, each once|a list"),
        ('people = ["Ash", "Ash"]', "each once"),
        ("people = 500", "a list of 40"),
        ('place = "a\\u0007b"', "text in quotation marks"),
        (f'place = "{"x" * 300}"', "120 letters"),
        ('ready = "hot"', "one of trial only, kiln burnt, kiln lit"),
        ('ready = "kiln burnt"', "it is not told, and a kiln burnt before must have cooled"),
        ('brought = ["bread"]', "cold quicklime"),
        ('swap = ["a", "b"]', "pairs of rows"),
        ('start = "nine"', "a clock time"),
        ('van_load = "700"', "van_load"),
        ('van_load = "7 m"', "van_load"),
        ('plase = "here"', 'did you mean "place"'),
        ('teachers = ["learner 1"]', "each name once"),
        ('first_day = "2028-02-30"', "a date"),
        ("lit = ", "not valid TOML"),
    ],
)
def test_what_cannot_be_read_is_told(told, line, said):
    key = line.partition(" ")[0]
    least = "\n".join(one for one in LEAST.splitlines() if not one.startswith(key))
    with pytest.raises(RecordError, match=said):
        told(f"\n{line}\n", least)


def test_every_fault_is_told_at_once(told):
    with pytest.raises(RecordError) as caught:
        told('end = "late"\nready = 3\n', "people = 6\n")
    assert len(caught.value.faults) == 3


def test_the_example_is_written_for_a_day_and_never_over_a_file(tmp_path):
    path = tmp_path / "my_workshop.toml"
    write_workshop_example(path, datetime.date(2029, 9, 8))
    assert read_workshop(path).first_day == datetime.date(2029, 9, 8)
    assert path.read_text(encoding="utf-8").startswith("# invented example")
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="there already"):
        write_workshop_example(path, datetime.date(2029, 9, 8))
    assert path.read_text(encoding="utf-8") == "mine"
