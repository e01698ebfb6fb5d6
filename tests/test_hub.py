import re
import resource
import subprocess
import sys
from collections import defaultdict
from types import SimpleNamespace

import pytest

from limekit.course import hub
from limekit.errors import InputError


class Settings(defaultdict):
    """Takes whatever is set on it, as JupyterHub's own does."""

    def __init__(self):
        super().__init__(SimpleNamespace)

    __getattr__ = defaultdict.__getitem__


@pytest.fixture
def ordinary(monkeypatch, tmp_path_factory):
    monkeypatch.setattr(hub, "SHORT", tmp_path_factory.mktemp("short"))
    monkeypatch.setattr(hub.os, "geteuid", lambda: 1000)


def test_the_hub_stands_on_this_machine_alone_unless_told(ordinary, tmp_path, capsys):
    settings = Settings()
    hub.configure(settings, tmp_path)
    said = capsys.readouterr().out
    assert settings["JupyterHub"].bind_url == "http://127.0.0.1:8000"
    assert settings["ConfigurableHTTPProxy"].api_url.startswith("http://127.0.0.1:")
    assert settings["SharedPasswordAuthenticator"].user_password in said
    assert len(settings["SharedPasswordAuthenticator"].admin_password) >= 32
    assert settings["JupyterHub"].active_server_limit == 12
    assert [path.name for path in tmp_path.iterdir()] == ["hub"]
    assert list((tmp_path / "hub").iterdir()) == []
    assert (tmp_path / "hub").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("address", ["0.0.0.0", "8.8.8.8", "100.64.0.1", "::1", "localhost", "", "1"])
def test_an_address_open_to_more_than_the_room_is_refused(address):
    with pytest.raises(InputError, match="address of the class"):
        hub.room_address(address)


@pytest.mark.parametrize("address", ["127.0.0.1", "192.168.1.20", "10.0.0.5", "172.16.0.9", "169.254.3.3"])
def test_an_address_of_the_room_is_taken(address):
    assert hub.room_address(address) == address


def test_root_may_not_hold_a_class(monkeypatch, tmp_path):
    monkeypatch.setattr(hub.os, "geteuid", lambda: 0)
    with pytest.raises(InputError, match="ordinary account"):
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


def test_each_learner_gets_the_lessons_once_and_a_limit(ordinary, tmp_path):
    settings, anna = Settings(), SimpleNamespace(user=SimpleNamespace(name="anna"))
    hub.configure(settings, tmp_path, limit=400_000_000)
    settings["Spawner"].pre_spawn_hook(anna)
    home = tmp_path / "learners" / "anna"
    assert (home / hub.FIRST).is_file()
    (home / hub.FIRST).write_text('{"cells": ["hers"]}')
    settings["Spawner"].pre_spawn_hook(anna)
    assert (home / hub.FIRST).read_text() == '{"cells": ["hers"]}'
    asked = "import resource; print(*resource.getrlimit(resource.RLIMIT_DATA)); bytearray(500_000_000)"
    done = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=False, **anna.popen_kwargs
    )
    assert done.stdout.split() == ["400000000"] * 2
    if sys.platform == "linux":
        assert "MemoryError" in done.stderr
    assert resource.getrlimit(resource.RLIMIT_DATA)[0] != 400_000_000
