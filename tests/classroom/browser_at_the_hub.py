"""Open a lesson through the class's hub in a real Chromium, run it, and print what the page and the network said.

``python tests/classroom/browser_at_the_hub.py`` wants ``pip install -e '.[classroom,tests]'`` and Chromium.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parent))
from hub_client import Hub

from limekit.__main__ import main as limekit
from limekit.course.ladder import lesson

LESSON, PORT, PATIENCE = lesson("what_fire_does").notebook, 18300, 120_000  # ms
CLOSED = ["--no-sandbox", "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"]
KNOWN = (f"http://127.0.0.1:{PORT}/", "data:", "blob:")
LIVE = ".jp-Notebook .js-plotly-plot"


def visit(hub, page):
    """Log in, run the lesson, and return how many live pictures and sliders it has."""
    page.goto(hub.url)
    page.fill("input[name=username]", "anna")
    page.fill("input[name=password]", "a-word-of-my-own")
    page.fill("input[name=otp]", hub.password)
    page.click("input[type=submit]")
    page.wait_for_selector(".jp-Notebook", timeout=PATIENCE)
    page.goto(f"{hub.url}/user/anna/lab/tree/{LESSON}.ipynb?reset")
    page.wait_for_selector("[title*='Idle'], [data-status='idle']", state="attached", timeout=PATIENCE)
    page.click(".lm-MenuBar-itemLabel >> text=Run")
    page.click(".lm-Menu-item >> text='Run All Cells'")
    page.wait_for_selector(".jp-Notebook [role=slider]", state="attached", timeout=PATIENCE)
    page.wait_for_selector(LIVE, state="attached", timeout=PATIENCE)
    return page.locator(LIVE).count(), page.locator("[role=slider]").count()


def main():
    complaints, outside = [], []
    with tempfile.TemporaryDirectory() as folder:
        if limekit(["classroom", folder, "--learners", "1", "--port", str(PORT)]):
            return 1
        with Hub(folder, PORT) as hub, sync_playwright() as play:
            browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=CLOSED)
            page = browser.new_page()
            page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
            page.on("request", lambda asked: outside.append(asked.url) if not asked.url.startswith(KNOWN) else None)
            pictures, sliders = visit(hub, page)
            browser.close()
    print(f"{LESSON}: {pictures} live pictures, {sliders} sliders")
    print(f"{len(complaints)} complaints in the console", *complaints, sep="\n  ")
    print(f"{len(outside)} requests that would leave the machine", *outside, sep="\n  ")
    return len(complaints) + len(outside)


if __name__ == "__main__":
    sys.exit(main())
