from html.parser import HTMLParser

import pytest
from IPython.core.formatters import DisplayFormatter

from limekit import glossary
from limekit.errors import InputError, RecordError
from limekit.records.columns import Column
from limekit.records.sheets import CAUTION, blank_sheet, write_blank_csv
from limekit.records.trial_sheet import COLUMNS, read_trial
from limekit.units import Metre


class Tags(HTMLParser):
    def __init__(self, page):
        super().__init__()
        self.seen, self.open, self.text = [], [], ""
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.seen.append((tag, dict(attributes)))
        if tag not in ("meta", "col"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, words):
        self.text += words


def test_a_sheet_is_a_whole_page_with_named_rows_and_columns():
    page = Tags(blank_sheet(rows=7))
    assert page.open == []
    assert ("html", {"lang": "en"}) in page.seen
    assert [tag for tag, _ in page.seen].count("h1") == 1
    scopes = [attributes.get("scope") for tag, attributes in page.seen if tag == "th"]
    assert scopes.count("col") == len(COLUMNS) + 1
    assert scopes.count("row") == 7
    assert sum(tag == "td" for tag, _ in page.seen) == 7 * len(COLUMNS) + 1  # the caution


def test_a_sheet_says_what_the_glossary_says_and_warns():
    text = Tags(blank_sheet()).text
    for column in COLUMNS:
        if column.unit:
            assert glossary.entry(column.name).axis in text
            assert glossary.entry(column.name).help in text
        for word in column.words:
            assert word in text
    assert CAUTION in text
    assert all(word in CAUTION for word in ("goggles", "carbon monoxide", "never water to lime"))


def test_a_sheet_is_printed_lying_and_fetches_nothing():
    page = blank_sheet()
    assert "size: A4 landscape" in page
    assert not any(word in page for word in ("http:", "https:", "src=", "<script", "@import", "url("))


def test_the_key_stands_before_the_table_and_the_caution_in_the_head_that_every_page_repeats():
    page = blank_sheet()
    assert page.index("</dl>") < page.index("<table")
    assert page.index("<thead>") < page.index(CAUTION) < page.index("</thead>")
    assert "thead { display: table-header-group; }" in page


def test_words_on_a_sheet_are_escaped():
    page = Tags(blank_sheet((Column("a<b", about="<script>&"), Column("diameter", Metre)), title="x</title><script>"))
    assert not any(tag == "script" for tag, _ in page.seen)
    assert "x</title><script>" in page.text


@pytest.mark.parametrize("rows", [0, -1, 201, 2.0, "12", True, None])
def test_rows_nobody_can_print_are_refused(rows):
    with pytest.raises(InputError, match="rows"):
        blank_sheet(rows=rows)


def test_a_sheet_without_columns_is_refused():
    with pytest.raises(InputError, match="columns"):
        blank_sheet(())


def test_a_blank_csv_is_read_once_filled_in(tmp_path):
    path = write_blank_csv(tmp_path / "mine.csv")
    with pytest.raises(RecordError, match="no rows"):
        read_trial(path)
    with path.open("ab") as file:
        file.write(b"1,400,80,,,,60,cherry,,300,50,partly,\r\n")
    (piece,) = read_trial(path).pieces
    assert (piece.largest_size, piece.glow) == (0.08, "cherry")


@pytest.mark.parametrize(("sep", "between"), [(",", ","), (";", ";"), ("tab", "\t")])
def test_a_blank_csv_opens_in_columns_whatever_parts_them_here(tmp_path, sep, between):
    path = write_blank_csv(tmp_path / "mine.csv", sep=sep)
    header = path.read_text(encoding="utf-8-sig").splitlines()[0]
    assert header.split(between) == [column.header for column in COLUMNS]
    row = dict.fromkeys(header.split(between), "") | {"piece": "1", "largest_size [mm]": "80", "slaking": "partly"}
    row |= {"time_in_heat [min]": "60,5" if sep == ";" else "60.5"}
    with path.open("a", encoding="utf-8") as file:
        file.write(between.join(row.values()) + "\n")
    (piece,) = read_trial(path).pieces
    assert piece.time_in_heat == pytest.approx(60.5 * 60)


@pytest.mark.parametrize("sep", ["|", "", None, ["x"], "semicolon"])
def test_what_parts_no_cells_is_refused_and_nothing_is_written(tmp_path, sep):
    with pytest.raises(InputError, match="sep"):
        write_blank_csv(tmp_path / "mine.csv", sep=sep)
    assert not list(tmp_path.iterdir())


def test_a_notebook_shows_a_blank_sheet_as_a_page_and_it_can_be_saved(tmp_path):
    page = blank_sheet(title="Trial <b>burn</b>")
    shown = DisplayFormatter().format(page)[0]
    assert shown["text/html"].startswith('<div class="mathjax_ignore">')
    assert "<iframe" in shown["text/html"]
    assert "<b>burn" not in shown["text/html"]
    assert shown["text/plain"] == '<page to print: Trial <b>burn</b>; its .save("trial_b_burn_b_.html") writes it>'
    assert page.save(tmp_path / "sheet.html").read_text(encoding="utf-8") == str(page)
    assert page.save(tmp_path / "sheet.html") == tmp_path / "sheet.html"


def test_nothing_is_written_over(tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text("my own")
    with pytest.raises(InputError, match="there already"):
        write_blank_csv(path)
    assert path.read_text() == "my own"


@pytest.mark.parametrize("place", ["", "none/mine.csv", "file/mine.csv"])
def test_a_place_that_cannot_be_written_to_is_named(tmp_path, place):
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="saving"):
        write_blank_csv(tmp_path / place)
