"""What a class's JupyterHub is told: an address, a password for the class, and for each learner a folder and a limit.

Nothing of JupyterHub is imported: its settings object takes what is written to it.
"""

from __future__ import annotations

import atexit
import functools
import ipaddress
import os
import secrets
import shutil
import sys
import tempfile
from importlib import resources
from pathlib import Path

from limekit.course.folder import FIRST, copy_lessons
from limekit.errors import InputError
from limekit.records import files

EASY_TO_READ = "abcdefghjkmnpqrstuvwxyz23456789"
NAME = r"[a-z][a-z0-9_-]{0,19}\Z"
SHORT = "/tmp"
INSTRUCTOR = "instructor"
IDLE = 3600  # s
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


def _hold_to(limit: int) -> None:
    """Let no process of a learner keep more data than this; run in their server before it starts."""
    import resource

    resource.setrlimit(resource.RLIMIT_DATA, (limit, limit))


def _make_ready(spawner, learners: Path, limit: int) -> None:
    """Give a learner their own folder, with the lessons that are not in it yet, and a limit."""
    home = learners / spawner.user.name
    copy_lessons(home)
    spawner.popen_kwargs = {"cwd": home, "preexec_fn": functools.partial(_hold_to, limit)}


def _meeting_place(within: Path, spawner) -> str:
    """Return where a learner's lessons and their server meet: a path short enough for a socket's name."""
    return str(within / spawner.user.name)


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
        For an address open to more than the room, or if run by root, whose files every learner could then change.
    """
    if os.geteuid() == 0:
        raise InputError("the class's hub", "a start by root", "an ordinary account; every learner works under it")
    folder = Path(folder).resolve()
    state = files.folder(folder / "hub")
    state.chmod(0o700)
    for_class, for_instructor = password(), password(groups=8)
    sockets = Path(tempfile.mkdtemp(prefix="class-", dir=SHORT))
    atexit.register(shutil.rmtree, sockets, ignore_errors=True)

    c.JupyterHub.bind_url = f"http://{room_address(address)}:{port}"
    c.JupyterHub.hub_port = port + 1
    c.JupyterHub.db_url = f"sqlite:///{state / 'hub.sqlite'}"
    c.JupyterHub.cookie_secret_file = str(state / "cookie_secret")
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

    c.JupyterHub.authenticator_class = "shared-password"
    c.SharedPasswordAuthenticator.user_password = for_class
    c.SharedPasswordAuthenticator.admin_password = for_instructor
    c.Authenticator.admin_users = {INSTRUCTOR}
    c.Authenticator.allow_all = True
    c.Authenticator.username_pattern = NAME

    c.JupyterHub.spawner_class = "simple"
    c.SimpleLocalProcessSpawner.home_dir_template = str(folder / "learners" / "{username}")
    c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
    c.Spawner.args = [
        f"--MappingKernelManager.cull_idle_timeout={IDLE}",
        "--MappingKernelManager.cull_connected=True",
        "--ServerApp.terminals_enabled=False",
        "--KernelManager.transport=ipc",  # by port, two servers that start lessons at once can draw the same one
    ]
    c.Spawner.default_url = f"/lab/tree/{FIRST}"
    c.Spawner.start_timeout = c.Spawner.http_timeout = PATIENCE
    c.Spawner.environment = {
        "JUPYTER_CONFIG_PATH": str(resources.files("limekit").joinpath("data/jupyter")),
        "JUPYTER_RUNTIME_DIR": functools.partial(_meeting_place, sockets),
        "OMP_NUM_THREADS": "1",
        "OPENBLAS_NUM_THREADS": "1",
    }
    c.Spawner.pre_spawn_hook = functools.partial(_make_ready, learners=folder / "learners", limit=limit)

    print(f"Learners open http://{address}:{port} and log in with a name of their own and the password  {for_class}")
    print(f"You log in as {INSTRUCTOR} with  {for_instructor}", flush=True)
