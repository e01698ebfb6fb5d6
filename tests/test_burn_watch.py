"""A burning night kept in view: the page written, a half-written line survived, the bell rung, the page served alone."""

import urllib.error
import urllib.request

import pandas as pd
import pytest

from limekit import __main__ as verbs
from limekit import example_path, read_burn_log
from limekit.course import burn_watch
from limekit.course.burn_watch import LOG, PAGE, RECORD, Watched, serve
from limekit.errors import InputError, RecordError
from limekit.records.kiln_record import Record

HEADER, *LINES = [
    line for line in example_path("burn_log_example.csv").read_text(encoding="utf-8").splitlines() if line[0] != "#"
]


def wood(mass):
    return f'[burn]\nfuel_mass = "{mass} kg"\n'


PLENTY = wood(4000)


def kept(folder, lines, record=PLENTY):
    (folder / RECORD).write_text(record, encoding="utf-8")
    (folder / LOG).write_text("\n".join([HEADER, *LINES[:lines]]) + "\n", encoding="utf-8")
    return folder


def page_of(folder):
    return (folder / PAGE).read_text(encoding="utf-8")


def test_the_page_says_what_is_asked_at_three_in_the_morning(tmp_path, capsys):
    assert verbs.main(["watch", str(kept(tmp_path, 12)), "--once"]) == 0
    text = page_of(tmp_path)
    for words in ("hours burnt", "6.5 h", "lit at 05:30", "hours left", "wood left", "wood wanted", "next watch"):
        assert words in text, words
    for words in ("thermometer to doubt", "test piece: not noted", "line of 12:00", "Carbon monoxide", "local codes"):
        assert words in text, words
    fed = read_burn_log(tmp_path / LOG).fuel_fed.sum()
    assert f"{4000 - fed:.0f} kg" in text
    assert text.count("<script>setTimeout(() => location.reload(), 60000);") == 1
    assert "src=" not in text
    assert [one.name for one in tmp_path.iterdir() if one.name.startswith(("burn_day", "."))] == [PAGE]


def test_a_line_half_written_leaves_what_stood_and_is_said(tmp_path):
    watched = Watched(kept(tmp_path, 5))
    assert watched.look()
    assert not watched.look()
    with (tmp_path / LOG).open("a", encoding="utf-8") as file:
        file.write("08:3")
    assert watched.look()
    assert "Not read this time" in page_of(tmp_path)
    assert "2.0 h" in page_of(tmp_path)
    kept(tmp_path, 7)
    assert watched.look()
    assert "Not read this time" not in page_of(tmp_path)
    assert "3.5 h" in page_of(tmp_path)


def test_where_nothing_can_be_read_yet_it_says_so(tmp_path, capsys):
    with pytest.raises(RecordError, match="no such file"):
        Watched(tmp_path).look()
    assert verbs.main(["watch", str(tmp_path), "--once"]) == 2
    assert not (tmp_path / PAGE).exists()


def test_a_page_of_the_persons_own_is_kept_and_the_kits_own_is_not(tmp_path):
    kept(tmp_path, 4)
    (tmp_path / PAGE).write_text("my notes", encoding="utf-8")
    watched = Watched(tmp_path)
    watched.look()
    kept(tmp_path, 5)
    watched.look()
    assert (tmp_path / f"{PAGE}.1").read_text(encoding="utf-8") == "my notes"
    assert not (tmp_path / f"{PAGE}.2").exists()


def test_the_bell_rings_once_when_the_forecast_passes_the_wood(tmp_path):
    said = []
    watched = Watched(kept(tmp_path, 10), say=said.append)
    watched.look()
    assert not [line for line in said if "wood" in line]
    kept(tmp_path, 10, wood(80))
    watched.look()
    kept(tmp_path, 11, wood(80))
    watched.look()
    rung = [line for line in said if "passes the wood" in line]
    assert len(rung) == 1
    assert rung[0].startswith(burn_watch.BELL)
    assert 'role="alert"' in page_of(tmp_path)


def test_a_loggers_file_that_the_record_names_joins_the_log(tmp_path):
    record = f'{PLENTY}logger = "night.csv"\nlogger_places = "T1: flue, T2: middle"\n'
    at = pd.date_range("2028-06-03 05:20", periods=300, freq="60s")
    pd.DataFrame({"time": at, "T1 [degC]": 60.0, "T2 [degC]": 300.0}).to_csv(tmp_path / "night.csv", index=False)
    watched = Watched(kept(tmp_path, 5, record))
    assert watched.look()
    assert "A reading each 60 s" in page_of(tmp_path)
    (tmp_path / "night.csv").write_text("time,T1\n")
    assert watched.look()
    assert "Not read this time" in page_of(tmp_path)


@pytest.mark.parametrize(
    "spoilt", ['logger = "../../secret.csv"', 'logger_places = "T1: chimney"', 'logger_places = "T1"']
)
def test_a_record_names_a_file_beside_it_and_places_of_the_log(tmp_path, spoilt):
    (tmp_path / RECORD).write_text(f"[burn]\n{spoilt}\n", encoding="utf-8")
    with pytest.raises(RecordError, match=spoilt.split(" = ")[0]):
        Record.load(tmp_path / RECORD)


def test_the_page_alone_is_served_and_only_to_read(tmp_path):
    (tmp_path / RECORD).write_text("secret")
    watched = Watched(tmp_path, page=b"<!DOCTYPE html>the night")
    server = serve(watched, "127.0.0.1:0")
    try:
        where = f"http://127.0.0.1:{server.server_address[1]}"
        for path in ("/", f"/{PAGE}"):
            assert urllib.request.urlopen(where + path).read() == watched.page
        for path in (f"/{RECORD}", "/..", f"/../{RECORD}", "/?a"):
            with pytest.raises(urllib.error.HTTPError):
                urllib.request.urlopen(where + path)
        with pytest.raises(urllib.error.HTTPError):
            urllib.request.urlopen(urllib.request.Request(where, data=b"words", method="POST"))
    finally:
        server.shutdown()
        server.server_close()


@pytest.mark.parametrize("address", ["256.0.0.1:80", "127.0.0.1:many", "127.0.0.1:99999", "nowhere.invalid"])
def test_an_address_that_is_not_this_machines_is_refused_in_words(tmp_path, address):
    with pytest.raises(InputError, match="address"):
        serve(Watched(tmp_path), address)
