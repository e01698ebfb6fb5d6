from types import SimpleNamespace

import pytest

import limekit
from limekit.pictures.progress import STEPS, progress
from limekit.records.examples import example_path


class Handle:
    def __init__(self, first):
        self.shown = [first]

    def update(self, one):
        self.shown.append(one)


@pytest.fixture
def shown(monkeypatch):
    """Stand in for a notebook's kernel and keep what is displayed."""
    import IPython
    import IPython.display

    handles = []

    def display(one, display_id):
        handles.append(Handle(one))
        return handles[-1]

    monkeypatch.setattr(IPython, "get_ipython", lambda: SimpleNamespace(kernel=object()))
    monkeypatch.setattr(IPython.display, "display", display)
    return handles


def test_it_grows_and_leaves_nothing_but_its_words(shown):
    with progress("Firing <kilns>") as tell:
        for number in range(1000):
            tell(number / 999)
    (handle,) = shown
    pages = [one._repr_html_() for one in handle.shown]
    assert len(pages) == STEPS + 2
    assert 'value="0.00"' in pages[0]
    assert 'value="1.00"' in pages[-2]
    assert all("Firing &lt;kilns&gt; <progress" in page for page in pages[:-1])
    assert pages[-1] == ""
    assert {repr(one) for one in handle.shown} == {"Firing <kilns>"}


def test_it_goes_also_when_the_work_breaks(shown):
    def work():
        with progress("Firing"):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        work()
    assert shown[0].shown[-1]._repr_html_() == ""


@pytest.mark.parametrize("share", [-1.0, 2.0])
def test_a_share_out_of_range_is_drawn_at_the_nearest_end(shown, share):
    with progress("Firing") as tell:
        tell(0.5)
        tell(share)
    assert f'value="{min(max(share, 0.0), 1.0):.2f}"' in shown[0].shown[-2]._repr_html_()


def test_outside_a_notebook_it_is_silent(capsys):
    with progress("Firing") as tell:
        tell(0.5)
    out = capsys.readouterr()
    assert (out.out, out.err) == ("", "")


def test_an_ensemble_tells_its_steps_and_is_the_same_for_it():
    firing = limekit.fire_kiln.plain(limekit.size_kiln.plain(500.0, 0.08), chimney_height=2.0)
    heard = limekit.assess_trial.plain(limekit.read_trial(example_path("trial_example.csv"), calcium_carbonate=0.95))
    told = []
    ranged = limekit.fire_range.plain(firing, heard, members=5, progress=told.append)
    assert len(told) > 10
    assert told == sorted(told)
    assert 0.0 < told[0] < 0.1
    assert 0.8 < told[-1] <= 1.0
    assert (ranged.finishes == limekit.fire_range.plain(firing, heard, members=5).finishes).all()
