"""What a class's JupyterHub is told: an address, a password for the class, and for each learner an account and a limit.

Started by root on Linux, each learner works under an account of their own, made at the first login with a home in the
class's folder; else all work under the one that started it.
"""

from __future__ import annotations

import atexit
import functools
import ipaddress
import os
import secrets
import shutil
import stat
import sys
import tempfile
from pathlib import Path

from limekit.compiled import HOME, prepare
from limekit.course.ahead import environment
from limekit.course.door import OwnPasswords, door, is_anothers, is_own
from limekit.course.folder import FIRST, SOURCE
from limekit.errors import InputError
from limekit.records import files

EASY_TO_READ = "abcdefghjkmnpqrstuvwxyz23456789"
NAME = r"[a-z][a-z0-9_-]{0,19}\Z"
SHORT = "/tmp"
INSTRUCTOR = "instructor"
IDLE = 3600  # s
KILOBYTE = 1024  # a shell's limits are in these
SERVER = 'ulimit -d {limit} && "$0" -m limekit copy . >/dev/null; exec "$0" -m jupyterhub.singleuser "$@"'
WELCOME = (
    "Choose a name and a password of your own, of 8 letters or more, and keep both: they are yours for the class. "
    "The class's password stands on the board."
)
NEW_ACCOUNT = ["useradd", "--create-home", "--user-group", "--shell", "/usr/sbin/nologin", "--key", "HOME_MODE=0700"]
PATIENCE = 120  # s, for a server to start, or to answer through the proxy


def password(groups: int = 3) -> str:
    """Return a new password that can be read off a board: groups of four letters and digits."""
    return "-".join("".join(secrets.choice(EASY_TO_READ) for _ in range(4)) for _ in range(groups))


def room_address(address: str) -> str:
    """Return an address that only this machine or its own room can reach.

    Raises
    ------
    InputError
        If it is no such address, or stands for every network the machine is on.
    """
    try:
        given = ipaddress.IPv4Address(address)
    except ValueError:
        given = None
    if given is None or not given.is_private or given.is_unspecified:
        wanted = "127.0.0.1 for this machine alone, or its own address in the room's network, such as 192.168.1.20"
        raise InputError("address of the class", f'"{address}"', wanted, "--address 192.168.1.20")
    return str(given)


def own_accounts() -> bool:
    """Whether each learner can be given an account of their own here: on Linux, started by root."""
    return sys.platform == "linux" and os.geteuid() == 0 and shutil.which("useradd") is not None


def _closed_to_others(path: Path) -> Path | None:
    """Return the first folder on the way to a path that other accounts may not pass, or None."""
    return next((one for one in reversed(path.parents) if not one.stat().st_mode & stat.S_IXOTH), None)


def _refuse_what_learners_cannot_reach(folder: Path) -> None:
    for path in (folder / "learners", Path(sys.executable), Path(sys.executable).resolve(), SOURCE / "limekit"):
        if closed := _closed_to_others(path):
            got = f"{path}, which learners' accounts do not reach, since {closed} is closed to them"
            raise InputError("the class's hub", got, "the kit and the class where all may read, such as /opt and /srv")


def _refuse_what_is_anothers(learners: Path) -> None:
    if is_anothers(INSTRUCTOR, learners / INSTRUCTOR):
        wanted = f"no such account; if it is an earlier class's: userdel {INSTRUCTOR}, which leaves its folder"
        raise InputError("the class's hub", f"an account {INSTRUCTOR} not made for this class", wanted)
    for home in learners.iterdir():
        if not is_own(home):
            got = f"{home}, which is not its own account's: a class held before under one account"
            raise InputError("the class's hub", got, "a new folder for the class, and the lessons copied over by hand")


def _meeting_place(within: Path, spawner) -> str:
    """Return where a learner's lessons and their server meet: a path short enough for a socket's name."""
    return str(within / spawner.user.name)


def _make_ready(spawner, sockets: Path) -> None:
    """Make the place where a learner's lessons and server meet, theirs alone."""
    place = files.folder(_meeting_place(sockets, spawner))
    place.chmod(0o700)
    if own_accounts():
        shutil.chown(place, spawner.user.name, spawner.user.name)


def configure(c, folder, address: str = "127.0.0.1", port: int = 8000, learners: int = 12, limit: int = 10**9) -> None:
    """Tell JupyterHub how to serve a class, and print the passwords of this start.

    Parameters
    ----------
    c
        The settings, as JupyterHub's ``get_config()`` gives them.
    folder : str or path-like
        Holds a folder of each learner in ``learners``, and the hub's own files in ``hub``.
    address : str
        Where learners reach the hub.
    port : int
        The two ports after it are used inside the machine.
    learners : int
        No more can have a server running at once.
    limit : int
        Bytes of data that one process of a learner, such as the kernel of a lesson, may hold.

    Raises
    ------
    InputError
        For an address open to more than the room; if run by root where accounts cannot be made, as every learner
        could then change all that root may; or if learners' accounts would not reach the kit or their folders.
    """
    folder, apart = Path(folder).resolve(), own_accounts()
    if os.geteuid() == 0 and not apart:
        raise InputError("the class's hub", "a start by root", "an ordinary account; every learner works under it")
    learners_folder, state = files.folder(folder / "learners"), files.folder(folder / "hub")
    try:
        state.chmod(0o700)
    except PermissionError as fault:
        got = f"{state}, which is another account's"
        raise InputError("the class's hub", got, "the account that began the class") from fault
    if apart:
        _refuse_what_learners_cannot_reach(folder)
        _refuse_what_is_anothers(learners_folder)
    for_class, for_instructor = password(), password(groups=8)
    sockets = Path(tempfile.mkdtemp(prefix="class-", dir=SHORT))
    atexit.register(shutil.rmtree, sockets, ignore_errors=True)
    if apart:
        sockets.chmod(0o711)

    c.JupyterHub.bind_url = f"http://{room_address(address)}:{port}"
    c.JupyterHub.hub_port = port + 1
    c.JupyterHub.db_url = f"sqlite:///{state / 'hub.sqlite'}"
    c.JupyterHub.cookie_secret = secrets.token_bytes(32)  # so that a login lasts no longer than this start
    c.JupyterHub.active_server_limit = learners
    c.JupyterHub.proxy_class = "configurable-http-proxy"
    c.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{port + 2}"
    c.ConfigurableHTTPProxy.pid_file = str(state / "proxy.pid")
    c.ConfigurableHTTPProxy.command = [
        sys.executable,
        "-m",
        "limekit.course.proxy",
        f"--proxy-timeout={PATIENCE * 1000}",
    ]

    c.JupyterHub.authenticator_class = door(
        OwnPasswords(state / "own_passwords.json"), learners_folder if apart else None
    )
    c.JupyterHub.template_vars = {"announcement_login": WELCOME}
    c.Authenticator.request_otp = True
    c.Authenticator.otp_prompt = "The class's password, off the board:"
    c.LocalAuthenticator.create_system_users = apart
    c.LocalAuthenticator.add_user_cmd = [*NEW_ACCOUNT, "--base-dir", str(learners_folder)]
    c.SharedPasswordAuthenticator.user_password = for_class
    c.SharedPasswordAuthenticator.admin_password = for_instructor
    c.Authenticator.admin_users = {INSTRUCTOR}
    c.Authenticator.allow_all = True
    c.Authenticator.username_pattern = NAME

    c.JupyterHub.spawner_class = "localprocess" if apart else "simple"
    c.SimpleLocalProcessSpawner.home_dir_template = str(learners_folder / "{username}")
    c.Spawner.cmd = ["sh", "-c", SERVER.format(limit=limit // KILOBYTE), sys.executable]
    c.Spawner.args = [
        f"--MappingKernelManager.cull_idle_timeout={IDLE}",
        "--MappingKernelManager.cull_connected=True",
        "--ServerApp.terminals_enabled=False",
        "--KernelManager.transport=ipc",  # by port, two servers that start lessons at once can draw the same one
    ]
    c.Spawner.default_url = f"/lab/tree/{FIRST}"
    c.Spawner.start_timeout = c.Spawner.http_timeout = PATIENCE
    c.Spawner.environment = {
        **environment({}),
        "JUPYTER_RUNTIME_DIR": functools.partial(_meeting_place, sockets),
        "OMP_NUM_THREADS": "1",
        "OPENBLAS_NUM_THREADS": "1",
    }
    if (compiled := prepare(print)) is not None:  # one for all, wherever a learner's own would lie
        c.Spawner.environment[HOME] = str(compiled.parent)
    c.Spawner.pre_spawn_hook = functools.partial(_make_ready, sockets=sockets)

    print(f"Learners open http://{address}:{port}; for the board, the class's password is  {for_class}")
    print(f"You log in as {INSTRUCTOR} with the password  {for_instructor}", flush=True)
