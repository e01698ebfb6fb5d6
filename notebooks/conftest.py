"""How nbval runs the notebooks: the shipped example in place of a learner's files, words compared strictly, figures nearly.

Pictures and widgets carry random names; the sentence each of them gives as
plain text is what is compared.
"""

import os

from same_words import Said, differences

NOT_COMPARED = ("application/vnd.plotly.v1+json", "image/svg+xml", "text/html", "text/latex")
SILENCE_S = 60  # of a kernel that has answered and still owes what it shows; a busy machine takes its time

os.environ["LIMEKIT_RECORD"] = "example"


def pytest_collectstart(collector):
    if hasattr(collector, "skip_compare"):
        collector.skip_compare += NOT_COMPARED


def pytest_itemcollected(item):
    if hasattr(item, "sanitize"):  # nbval asks it of every text before it compares
        item.output_timeout = SILENCE_S
        item.sanitize = lambda text: Said(text) if isinstance(text, str) else text


def pytest_assertrepr_compare(left, right):
    return differences(left, right) if isinstance(left, Said) else None
