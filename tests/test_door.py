"""The hub's door: one's own password, patience with wrong ones, and names that are another's."""

import asyncio
import os
import pwd
from types import SimpleNamespace

import pytest

from limekit.course import door as front
from limekit.course.door import FREE, LONGEST, REMEMBERED, SHORTEST, OwnPasswords, Patience

MINE, CLASS, MASTER = "a-word-of-my-own", "abcd-efgh-jkmn", "abcd-" * 8


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


def test_wrong_passwords_cost_ever_longer_and_never_more_than_a_bound(clock):
    patience, waits = Patience(clock), []
    for _ in range(FREE + 20):
        patience.wrong("anna")
        waits.append(patience.wait("anna"))
        clock.now += waits[-1]
        assert patience.wait("anna") == 0
    assert waits[:FREE] == [0] * FREE
    assert waits[FREE:] == sorted(waits[FREE:])
    assert waits[FREE] > 0
    assert waits[-1] == LONGEST


def test_one_who_guesses_keeps_nobody_else_waiting(clock):
    patience = Patience(clock)
    for _ in range(100):
        patience.wrong(("anna", "10.0.0.9"))
    assert patience.wait(("anna", "10.0.0.9")) > 0
    assert patience.wait(("anna", "10.0.0.7")) == patience.wait(("ben", "10.0.0.9")) == 0
    patience.right(("anna", "10.0.0.9"))
    assert patience.wait(("anna", "10.0.0.9")) == 0


def test_wrong_tries_under_ever_new_names_fill_no_memory(clock):
    patience = Patience(clock)
    for number in range(3 * REMEMBERED):
        patience.wrong(number)
    assert len(patience._wrong) == REMEMBERED


@pytest.fixture
def own(tmp_path):
    return OwnPasswords(tmp_path / "own.json")


def test_the_first_password_under_a_name_becomes_its_own(own):
    assert not own.fits("anna", "x" * (SHORTEST - 1))
    assert own.fits("anna", MINE)
    assert own.fits("anna", MINE)
    assert not own.fits("anna", MINE + "!")
    assert own.fits("ben", "another-word")
    own.forget("anna")
    own.forget("nobody")
    assert own.fits("anna", "forgotten-and-new")
    assert not own.fits("ben", MINE)


def test_passwords_are_kept_as_hashes_that_only_the_hub_reads(own):
    own.fits("anna", MINE)
    assert MINE not in own.path.read_text()
    assert own.path.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    ("header", "found"),
    [("10.0.0.7", "10.0.0.7"), ("1.2.3.4, 10.0.0.7", "10.0.0.7"), (",10.0.0.7", "10.0.0.7"), ("", "127.0.0.1")],
)
def test_where_one_comes_from_is_what_the_proxy_saw(header, found):
    headers = {"X-Forwarded-For": header, "X-Real-Ip": "6.6.6.6"}
    assert front.address(SimpleNamespace(headers=headers, remote_ip="127.0.0.1")) == found


def test_an_account_not_made_for_the_class_is_anothers(tmp_path, monkeypatch):
    assert front.is_anothers(pwd.getpwuid(0).pw_name, tmp_path / "root")
    assert not front.is_anothers("no-such-learner", tmp_path / "no-such-learner")
    (tmp_path / "anna").mkdir()
    account = SimpleNamespace(pw_dir=str(tmp_path / "anna"), pw_uid=os.getuid())
    monkeypatch.setattr(pwd, "getpwnam", lambda name: account)
    assert front.is_own(tmp_path / "anna")
    assert not front.is_anothers("anna", tmp_path / "anna")
    account.pw_uid += 1
    assert not front.is_own(tmp_path / "anna")


@pytest.mark.parametrize("apart", [True, False], ids=["accounts", "one account"])
def test_an_account_is_made_for_a_new_learner_only_where_each_has_one(own, tmp_path, monkeypatch, apart):
    monkeypatch.chdir(tmp_path)
    pytest.importorskip("jupyterhub", reason="the class's hub is not installed")
    gate, made = (
        front.door(own, tmp_path if apart else None)(allow_all=True, create_system_users=True),
        tmp_path / "made",
    )
    gate.add_user_cmd = ["touch", str(made)]
    asyncio.run(gate.add_user(SimpleNamespace(name="no-such-learner")))
    assert made.exists() == apart


@pytest.fixture
def knock(own, tmp_path, monkeypatch):
    """Log in by the hub's form; return whether, and as what, one is let in, or the refusal's number."""
    pytest.importorskip("jupyterhub", reason="the class's hub is not installed")
    from tornado.web import HTTPError

    taken = {"root", "daemon"}
    monkeypatch.setattr(front, "is_anothers", lambda name, home: name in taken)
    gate = front.door(own, tmp_path)(user_password=CLASS, admin_password=MASTER, admin_users={"instructor"})
    gate.username_pattern, gate.allow_all = r"[a-z]+\Z", True

    def form(name, password, otp="", address="10.0.0.7"):
        handler = SimpleNamespace(request=SimpleNamespace(headers={}, remote_ip=address))
        try:
            known = asyncio.run(gate.authenticate(handler, {"username": name, "password": password, "otp": otp}))
        except HTTPError as refused:
            return refused.status_code
        return known and (known["name"], known["admin"])

    form.gate = gate
    return form


def test_a_learner_needs_the_class_s_password_and_their_own(knock):
    assert knock("anna", MINE) is None
    assert knock("anna", MINE, CLASS) == ("anna", False)
    assert knock("anna", "not-her-word", CLASS) is None
    assert knock("anna", CLASS, CLASS) is None
    assert knock("../up", MINE, CLASS) is None
    assert knock("ben", MINE, "wörter") is None


def test_the_instructor_needs_theirs_alone_and_nobody_is_made_one(knock):
    assert knock("instructor", MASTER) == ("instructor", True)
    assert knock("instructor", MINE, CLASS) is None
    assert knock("anna", MASTER, MASTER) is None


def test_who_guesses_must_wait_though_the_next_guess_were_right_and_others_need_not(knock):
    knock("anna", MINE, CLASS)
    tries = [knock("anna", "guess-number-x", CLASS, "10.0.0.9") for _ in range(FREE + 2)]
    assert tries == [None] * (FREE + 1) + [429]
    assert knock("anna", MINE, CLASS, "10.0.0.9") == 429
    assert knock("anna", MINE, CLASS, "10.0.0.7") == ("anna", False)
    assert knock("ben", MINE, CLASS, "10.0.0.9") == ("ben", False)


def test_a_name_that_the_machine_has_already_is_no_learners(knock):
    assert knock("root", MINE, CLASS) == 403
    assert knock("daemon", MINE, CLASS) == 403


def test_a_learner_taken_off_the_list_may_choose_anew(knock):
    knock("anna", MINE, CLASS)
    knock.gate.delete_user(SimpleNamespace(name="anna"))
    assert knock("anna", "a-new-word-now", CLASS) == ("anna", False)
