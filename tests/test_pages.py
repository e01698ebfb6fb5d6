import pytest

from limekit.errors import InputError
from limekit.pictures.pages import Page, Sheaf, Table
from limekit.records import printing


class TestTable:
    def test_long_words_are_shown_whole_in_both_forms(self):
        long = "word " * 40
        table = Table(("on", "ask"), [("Monday", long), ("Tuesday", "")])
        assert repr(table).splitlines() == ["on · ask", f"Monday · {long}", "Tuesday"]
        assert long in table._repr_html_()

    def test_words_are_not_taken_for_markup(self):
        assert "<b>" not in Table(("a", "b"), [("<b>", "x < y")])._repr_html_()


class TestSheaf:
    @pytest.fixture
    def sheaf(self):
        return Sheaf({"burn log": Page("<html>log</html>", "A log."), "mix": Page("<html>mix</html>", "A mix.")})

    def test_every_page_is_folded_under_its_name_and_spoken(self, sheaf):
        assert sheaf._repr_html_().count("<details>") == 2
        assert repr(sheaf) == "A log.\nA mix."

    def test_saved_pages_are_whole_and_an_older_one_is_kept(self, sheaf, tmp_path):
        folder = tmp_path / "to print" / "june"
        assert [path.name for path in sheaf.save(folder)] == ["burn_log.html", "mix.html"]
        (folder / "mix.html").write_text("my own marks")
        sheaf.save(folder)
        assert (folder / "mix.html").read_text() == "<html>mix</html>"
        assert (folder / "mix.html.1").read_text() == "my own marks"

    def test_a_folder_that_is_a_file_is_refused(self, sheaf, tmp_path):
        (tmp_path / "taken").write_text("")
        with pytest.raises(InputError, match="folder that can be made"):
            sheaf.save(tmp_path / "taken")


class TestPage:
    def test_a_name_that_ends_in_pdf_is_printed(self, tmp_path, monkeypatch):
        printed = []

        def browse(page, doing, *asked):
            printed.append(page)
            return b"%PDF"

        monkeypatch.setattr(printing, "browse", browse)
        assert Page("<html>kiln</html>", "A kiln.").save(tmp_path / "kiln.PDF") == tmp_path / "kiln.PDF"
        assert printed == ["<html>kiln</html>"]
        assert (tmp_path / "kiln.PDF").read_bytes() == b"%PDF"

    def test_any_other_name_is_the_page_itself(self, tmp_path):
        assert Page("<html>kiln</html>", "A kiln.").save(tmp_path / "kiln.html").read_text() == "<html>kiln</html>"
