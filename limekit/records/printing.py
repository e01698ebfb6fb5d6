"""Paper: whole HTML pages, and their printing to PDF by a Chromium that is on the machine."""

from __future__ import annotations

import contextlib
import html
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
POLICY = (
    "default-src 'none'; script-src {}; style-src 'unsafe-inline'; img-src data: blob:; "
    "base-uri 'none'; form-action 'none'"
)


def html_page(title: str, style: str, body: str, scripts: Sequence[str] = (), beside: str = "") -> str:
    """Return a whole HTML page that fetches nothing, and in which nothing runs but its own scripts.

    Parameters
    ----------
    title : str
    style : str
        CSS.
    body : str
        HTML, every word in it escaped.
    scripts : sequence of str
        Run after it, in order; the page's policy names each by its hash, so that a browser runs no other.
    beside : str
        Name of a script that lies beside the page and runs before them, where there is one.
    """
    hashes = " ".join(f"'sha256-{b64encode(sha256(script.encode()).digest()).decode()}'" for script in scripts)
    policy = POLICY.format(f"{hashes} 'self' file:" if beside else hashes or "'none'")
    lent = [f'<script src="{html.escape(beside, quote=True)}"></script>'] if beside else []
    body = "\n".join([body, *lent, *(f"<script>{script}</script>" for script in scripts)])
    return f"""<!DOCTYPE html>
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
"""


def browser() -> str | None:
    """Return the command of a browser that can print, or None where there is none."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def print_pdf(page, pdf) -> Path:
    """Print an HTML page to a PDF; the file it replaces is kept beside it.

    Parameters
    ----------
    page, pdf : str or path-like
        The page to read and the file to write.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If there is no such page, no browser of the Chromium kind on this machine, or it does not print.
    """
    page, pdf = files.as_path(page).resolve(), files.as_path(pdf)
    command = browser()
    asked = f"printing {page.name}"
    if not page.is_file():
        raise InputError(asked, f"no such page in {page.parent}", "a page that is there", '"my_kiln_design.html"')
    if command is None:
        wanted = "Chromium or a browser of its kind on this machine; or open the page and print it from there"
        raise InputError(asked, "no browser that can print by itself", wanted)
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "page.pdf"
        with contextlib.suppress(subprocess.TimeoutExpired, OSError):
            subprocess.run(
                [
                    command,
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--disable-background-networking",
                    f"--user-data-dir={folder}/profile",
                    "--no-pdf-header-footer",
                    f"--print-to-pdf={made}",
                    page.as_uri(),
                ],
                capture_output=True,
                timeout=PATIENCE,
                check=False,
            )
        if not made.is_file():
            raise InputError(asked, f"no answer from {Path(command).name}", "the page opened and printed by hand")
        files.write_whole(pdf, made.read_bytes())
    return pdf
