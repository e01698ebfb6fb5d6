"""Paper: whole HTML pages, and their printing to PDF by a Chromium that is on the machine."""

from __future__ import annotations

import contextlib
import html
import re
import shutil
import subprocess
import tempfile
from base64 import b64encode
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path

from limekit.errors import InputError
from limekit.records import files

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
PATIENCE = 120  # s
AS_PDF = ("--no-pdf-header-footer", "--print-to-pdf={}/made.pdf")
FRAME = "width:100%;box-sizing:border-box;max-width:1100px;height:640px;border:1px solid #625d55;background:#ffffff"
NO_NAME, TITLE = re.compile(r"\W+"), re.compile(r"<title>(.*?)</title>", re.DOTALL)
POLICY = (
    "default-src 'none'; script-src {}; style-src 'unsafe-inline'; img-src data: blob:; "
    "base-uri 'none'; form-action 'none'"
)


class PrintedPage(str):
    """A whole HTML page as text, which a notebook shows as the page it is."""

    __slots__ = ()

    @property
    def title(self) -> str:
        """What stands over it."""
        return html.unescape(TITLE.search(self)[1])

    def __repr__(self) -> str:
        return f'<page to print: {self.title}; its .save("{NO_NAME.sub("_", self.title.lower())}.html") writes it>'

    def _repr_html_(self) -> str:
        return f'<div class="mathjax_ignore">{framed(self, self.title)}</div>'

    def save(self, path) -> Path:
        """Write the page to a file; the file it replaces is kept beside it.

        Parameters
        ----------
        path : str or path-like
            A name that ends in ``.pdf`` has it printed by a Chromium on this machine; any other is
            a page to print from a browser.

        Raises
        ------
        InputError
            If the folder refuses, or a PDF is asked for where no browser can print.
        """
        path = files.as_path(path)
        is_pdf = path.suffix.lower() == ".pdf"
        files.write_whole(path, browse(self, f"printing {path.name}", *AS_PDF) if is_pdf else self.encode())
        return path


def framed(page: str, sentence: str) -> str:
    """Return HTML that shows a whole page, under a sentence, in a frame of its own: its looks stay inside."""
    title = html.escape(sentence, quote=True)
    return (
        f'<p style="font-size:16px">{title}</p>'
        f'<iframe title="{title}" style="{FRAME}" sandbox srcdoc="{html.escape(page, quote=True)}"></iframe>'
    )


def html_page(title: str, style: str, body: str, scripts: Sequence[str] = (), beside: str = "") -> PrintedPage:
    """Return a whole HTML page that fetches nothing, and in which nothing runs but its own scripts.

    Every word of its body is escaped. Scripts run after it, in order; the page's policy names each by its hash, so that
    a browser runs no other. One that lies `beside` the page runs before them.
    """
    hashes = " ".join(f"'sha256-{b64encode(sha256(script.encode()).digest()).decode()}'" for script in scripts)
    policy = POLICY.format(f"{hashes} 'self' file:" if beside else hashes or "'none'")
    lent = [f'<script src="{html.escape(beside, quote=True)}"></script>'] if beside else []
    body = "\n".join([body, *lent, *(f"<script>{script}</script>" for script in scripts)])
    return PrintedPage(f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<title>{html.escape(title)}</title>
<style>{style}</style>
</head>
<body>
{body}
</body>
</html>
""")


def browser() -> str | None:
    """Return the command of a browser that can print, or None where there is none."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def print_pdf(page, pdf) -> Path:
    """Print an HTML page to a PDF, as `browse` can; the file it replaces is kept beside it."""
    page = files.as_path(page).resolve()
    if not page.is_file():
        asked, wanted = f"printing {page.name}", "a page that is there"
        raise InputError(asked, f"no such page in {page.parent}", wanted, '"my_kiln_design.html"')
    pdf = files.as_path(pdf)
    files.write_whole(pdf, browse(page, f"printing {page.name}", *AS_PDF))
    return pdf


def browse(page: str | Path, doing: str, *asked: str) -> bytes:
    """Open an HTML page, its text or the file it lies in, in a browser that nobody sees; return what it makes of it.

    What is asked of the browser stands on its command line; braces stand for a folder in which ``made`` with some
    ending is to be made, without which what the browser says counts. Raises `InputError`, with what it was doing, if
    there is no browser of the Chromium kind on this machine, or it gives no answer.
    """
    command = browser()
    if command is None:
        wanted = "Chromium or a browser of its kind on this machine; or open the page and print it from there"
        raise InputError(doing, "no browser that can print by itself", wanted)
    with tempfile.TemporaryDirectory() as folder:
        said = b""
        if not isinstance(page, Path):
            text, page = page, Path(folder) / "page.html"
            files.write_whole(page, text.encode())
        with contextlib.suppress(subprocess.TimeoutExpired, OSError):
            said = subprocess.run(
                [
                    command,
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--disable-background-networking",
                    f"--user-data-dir={folder}/profile",
                    *(one.format(folder) for one in asked),
                    page.as_uri(),
                ],
                capture_output=True,
                timeout=PATIENCE,
                check=False,
            ).stdout
        made = next(Path(folder).glob("made.*"), None)
        if made or any("{}" in one for one in asked):
            said = made.read_bytes() if made else b""
    if not said:
        raise InputError(doing, f"no answer from {Path(command).name}", "the page opened and printed by hand")
    return said
