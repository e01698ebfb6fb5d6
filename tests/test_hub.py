import re
import subprocess
import sys
from collections import defaultdict
from pathlib import Path
from types import SimpleNamespace

import pytest

from limekit.course import hub
from limekit.course.folder import lessons
from limekit.errors import InputError


class Settings(defaultdict):
    """Takes whatever is set on it, as JupyterHub's own does."""

    def __init__(self):
        super().__init__(SimpleNamespace)

    __getattr__ = defaultdict.__getitem__


@pytest.fixture
def ordinary(monkeypatch, tmp_path_factory):
    """The hub set by an ordinary account; its door, made of JupyterHub's parts, is told of in test_door."""
    monkeypatch.setattr(hub, "SHORT", tmp_path_factory.mktemp("short"))
    monkeypatch.setattr(hub, "own_accounts", lambda: False)
    monkeypatch.setattr(hub, "door", lambda own, learners: (own, learners))
    monkeypatch.setattr(hub.os, "geteuid", lambda: 1000)


@pytest.fixture
def root(ordinary, monkeypatch):
    """The same, set by root, with a kit that all may read; the test's own folder stands for the class's."""
    monkeypatch.setattr(hub, "own_accounts", lambda: True)
    monkeypatch.setattr(hub, "_closed_to_others", lambda path: None)
    monkeypatch.setattr(hub, "is_anothers", lambda name, home: False)


def test_the_hub_stands_on_this_machine_alone_unless_told(ordinary, tmp_path, capsys):
    settings = Settings()
    hub.configure(settings, tmp_path)
    said = capsys.readouterr().out
    assert settings["JupyterHub"].bind_url == "http://127.0.0.1:8000"
    assert settings["ConfigurableHTTPProxy"].api_url.startswith("http://127.0.0.1:")
    assert settings["SharedPasswordAuthenticator"].user_password in said
    assert len(settings["SharedPasswordAuthenticator"].admin_password) >= 32
    assert settings["JupyterHub"].active_server_limit == 12
    assert sorted(path.name for path in tmp_path.iterdir()) == ["hub", "learners"]
    assert list((tmp_path / "hub").iterdir()) == []
    assert (tmp_path / "hub").stat().st_mode & 0o077 == 0


def test_learners_read_one_folder_of_compiled_loops_prepared_before_they_come(ordinary, tmp_path, monkeypatch):
    monkeypatch.setattr(hub, "prepare", lambda tell: tmp_path / "compiled" / "key")
    settings = Settings()
    hub.configure(settings, tmp_path)
    assert settings["Spawner"].environment["LIMEKIT_COMPILED"] == str(tmp_path / "compiled")
    monkeypatch.setattr(hub, "prepare", lambda tell: None)
    settings = Settings()
    hub.configure(settings, tmp_path)
    assert "LIMEKIT_COMPILED" not in settings["Spawner"].environment


@pytest.mark.parametrize("address", ["0.0.0.0", "8.8.8.8", "100.64.0.1", "::1", "localhost", "", "1"])
def test_an_address_open_to_more_than_the_room_is_refused(address):
    with pytest.raises(InputError, match="address of the class"):
        hub.room_address(address)


@pytest.mark.parametrize("address", ["127.0.0.1", "192.168.1.20", "10.0.0.5", "172.16.0.9", "169.254.3.3"])
def test_an_address_of_the_room_is_taken(address):
    assert hub.room_address(address) == address


def test_root_may_not_hold_a_class_where_it_cannot_make_accounts(ordinary, monkeypatch, tmp_path):
    monkeypatch.setattr(hub.os, "geteuid", lambda: 0)
    with pytest.raises(InputError, match="ordinary account"):
        hub.configure(Settings(), tmp_path)


def test_a_login_lasts_no_longer_than_one_start(ordinary, tmp_path):
    starts = [Settings(), Settings()]
    for settings in starts:
        hub.configure(settings, tmp_path)
    told = [settings["JupyterHub"].cookie_secret for settings in starts]
    assert told[0] != told[1]
    assert all(len(secret) >= 32 for secret in told)
    assert not hasattr(starts[0]["JupyterHub"], "cookie_secret_file")


def test_started_by_root_each_learner_has_an_account_with_a_home_in_the_class(root, tmp_path):
    settings = Settings()
    hub.configure(settings, tmp_path)
    assert settings["JupyterHub"].spawner_class == "localprocess"
    assert settings["JupyterHub"].authenticator_class[1] == tmp_path / "learners"
    assert settings["LocalAuthenticator"].create_system_users
    made = settings["LocalAuthenticator"].add_user_cmd
    assert made[0] == "useradd"
    assert made[-2:] == ["--base-dir", str(tmp_path / "learners")]
    assert "HOME_MODE=0700" in made


def test_under_one_account_none_are_made(ordinary, tmp_path):
    settings = Settings()
    hub.configure(settings, tmp_path)
    assert settings["JupyterHub"].spawner_class == "simple"
    assert settings["JupyterHub"].authenticator_class[1] is None
    assert not settings["LocalAuthenticator"].create_system_users


def test_a_class_that_accounts_would_not_reach_is_refused(root, monkeypatch, tmp_path):
    closed = tmp_path / "home"
    (closed / "class").mkdir(parents=True)
    monkeypatch.undo()
    monkeypatch.setattr(hub, "own_accounts", lambda: True)
    closed.chmod(0o700)
    with pytest.raises(InputError, match="closed to them"):
        hub.configure(Settings(), closed / "class")


def test_an_account_that_bears_the_instructors_name_is_said_at_the_start(root, monkeypatch, tmp_path):
    monkeypatch.setattr(hub, "is_anothers", lambda name, home: name == "instructor")
    with pytest.raises(InputError, match="userdel instructor"):
        hub.configure(Settings(), tmp_path)


def test_a_class_held_before_under_one_account_is_not_gone_on_with_by_root(root, tmp_path):
    (tmp_path / "learners" / "anna").mkdir(parents=True)
    with pytest.raises(InputError, match="held before under one account"):
        hub.configure(Settings(), tmp_path)


def test_passwords_are_new_each_time_and_easy_to_read():
    made = {hub.password() for _ in range(200)}
    assert len(made) == 200
    assert all(re.fullmatch(r"([a-z2-9]{4}-){2}[a-z2-9]{4}", one) for one in made)
    assert not set("".join(made)) & set("il10o")


@pytest.mark.parametrize("name", ["../up", "a/b", "a b", "", ".", "A", "a\n", "-a", "a" * 21])
def test_a_name_that_is_no_folder_is_refused(name):
    assert not re.match(hub.NAME, name)


@pytest.mark.parametrize("name", ["anna", "ben-2", "c_d", "a" * 20])
def test_a_plain_name_is_taken(name):
    assert re.match(hub.NAME, name)


def test_a_lessons_socket_has_a_name_that_linux_and_macos_allow(ordinary, monkeypatch, tmp_path):
    monkeypatch.setattr(hub, "SHORT", "/tmp")
    monkeypatch.setattr(hub.tempfile, "mkdtemp", lambda **where: f"{where['dir']}/{where['prefix']}12345678")
    settings = Settings()
    hub.configure(settings, tmp_path)
    longest = SimpleNamespace(user=SimpleNamespace(name="a" * 20))
    folder = settings["Spawner"].environment["JUPYTER_RUNTIME_DIR"](longest)
    assert len(f"{folder}/kernel-{'0' * 36}-ipc-5") < 104
    other = SimpleNamespace(user=SimpleNamespace(name="b"))
    assert settings["Spawner"].environment["JUPYTER_RUNTIME_DIR"](other) != folder


def test_a_lessons_meeting_place_is_its_learners_alone(ordinary, tmp_path):
    settings, anna = Settings(), SimpleNamespace(user=SimpleNamespace(name="anna"))
    hub.configure(settings, tmp_path)
    settings["Spawner"].pre_spawn_hook(anna)
    place = Path(settings["Spawner"].environment["JUPYTER_RUNTIME_DIR"](anna))
    assert place.stat().st_mode & 0o777 == 0o700
    assert place.parent.stat().st_mode & 0o777 == 0o700


def test_each_server_starts_with_the_lessons_once_and_a_limit(ordinary, tmp_path):
    settings, home = Settings(), tmp_path / "anna"
    hub.configure(settings, tmp_path / "class", limit=400_000_000)
    home.mkdir()
    told = settings["Spawner"].cmd
    asked = "import resource; print(*resource.getrlimit(resource.RLIMIT_DATA)); bytearray(500_000_000)"
    command = [*told[:2], told[2].replace("-m jupyterhub.singleuser", f"-c '{asked}'"), *told[3:], "--word"]
    done = subprocess.run(command, cwd=home, capture_output=True, text=True, check=False)
    assert done.stdout.split() == [str(400_000_000 // 1024 * 1024)] * 2
    if sys.platform == "linux":
        assert "MemoryError" in done.stderr
    mine = '{"cells": ["hers"]}'
    (home / hub.FIRST).write_text(mine)
    subprocess.run(command, cwd=home, capture_output=True, check=False)
    assert (home / hub.FIRST).read_text() == mine
    assert len(list(home.glob("*.ipynb"))) == len(lessons())
