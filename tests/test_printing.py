import pytest

from limekit.errors import InputError
from limekit.records import printing
from limekit.records.forms import sheet

needs_browser = pytest.mark.skipif(printing.browser() is None, reason="no Chromium on this machine")


@needs_browser
def test_a_sheet_comes_out_as_pdf_and_the_one_before_is_kept(tmp_path):
    page, pdf = tmp_path / "trial.html", tmp_path / "trial.pdf"
    page.write_text(sheet("trial"), encoding="utf-8")
    pdf.write_bytes(b"an older one")
    assert printing.print_pdf(page, pdf) == pdf
    assert pdf.read_bytes().startswith(b"%PDF")
    assert (tmp_path / "trial.pdf.1").read_bytes() == b"an older one"


def test_without_a_browser_it_says_what_to_do(tmp_path, monkeypatch):
    monkeypatch.setattr(printing, "browser", lambda: None)
    page = tmp_path / "trial.html"
    page.write_text("<p>lime</p>", encoding="utf-8")
    with pytest.raises(InputError, match="print it from there"):
        printing.print_pdf(page, tmp_path / "trial.pdf")
    assert not (tmp_path / "trial.pdf").exists()


def test_a_page_that_is_not_there_is_not_printed_as_an_error(tmp_path):
    with pytest.raises(InputError, match="no such page"):
        printing.print_pdf(tmp_path / "trial.html", tmp_path / "trial.pdf")


@pytest.mark.parametrize("does", ["exit 0", "exec sleep 30"])
def test_a_browser_that_does_not_print_is_no_empty_file(tmp_path, monkeypatch, does):
    command = tmp_path / "browser"
    command.write_text(f"#!/bin/sh\n{does}\n", encoding="utf-8")
    command.chmod(0o755)
    monkeypatch.setattr(printing, "browser", lambda: str(command))
    monkeypatch.setattr(printing, "PATIENCE", 0.5)
    page, pdf = tmp_path / "trial.html", tmp_path / "trial.pdf"
    page.write_text("<p>lime</p>", encoding="utf-8")
    pdf.write_bytes(b"an older one")
    with pytest.raises(InputError, match="by hand"):
        printing.print_pdf(page, pdf)
    assert pdf.read_bytes() == b"an older one"
