"""The door of a class's hub: the class's password off the board, a learner's own beside it, and patience with slips.

A learner's own is chosen at the first login under a name and kept as a hash. Who gives a wrong one waits ever longer
for the next try, under that name and from that address alone, so that nobody shuts the door on another.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path

from limekit.records import files

FREE, LONGEST = 3, 64  # wrong tries that cost no time; s, the most that one costs
REMEMBERED = 1000  # names and addresses
SHORTEST = 8  # letters of a learner's own password
MOST_BYTES = 1_000_000


class Patience:
    """How long each must wait after wrong passwords, by a clock in seconds: twice as long each time."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock, self._wrong = clock, {}

    def wait(self, who) -> float:
        """Return the seconds until a try of this one is looked at again."""
        count, last = self._wrong.get(who, (0, 0.0))
        cost = min(2 ** (min(count, REMEMBERED) - FREE), LONGEST) if count > FREE else 0
        return max(0.0, last + cost - self._clock())

    def wrong(self, who) -> None:
        """Count a wrong try."""
        count, _ = self._wrong.pop(who, (0, 0.0))
        self._wrong[who] = count + 1, self._clock()
        if len(self._wrong) > REMEMBERED:
            del self._wrong[next(iter(self._wrong))]

    def right(self, who) -> None:
        """Forget this one's wrong tries."""
        self._wrong.pop(who, None)


class OwnPasswords:
    """The learners' own passwords, as hashes in one file, there or not yet."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def fits(self, name: str, password: str) -> bool:
        """Whether this is the name's own; the first that is long enough becomes it."""
        from jupyter_server.auth.security import passwd, passwd_check

        with files.held(self.path) as file:
            known = _read(file)
            if name in known:
                return passwd_check(known[name], password)
            if len(password) < SHORTEST:
                return False
            file.write(json.dumps({**known, name: passwd(password)}, indent=1).encode())
            self.path.chmod(0o600)
        return True

    def forget(self, name: str) -> None:
        """Let the next to come under this name choose anew."""
        with files.held(self.path) as file:
            known = _read(file)
            if known.pop(name, None):
                file.write(json.dumps(known, indent=1).encode())


def _read(file: files.Held) -> dict[str, str]:
    return json.loads(file.read(MOST_BYTES) or b"{}")


def address(request) -> str:
    """Return where a request came from: what the proxy added last, since a browser may claim anything before it."""
    return request.headers.get("X-Forwarded-For", "").rpartition(",")[2].strip() or request.remote_ip


def is_anothers(name: str, home: Path) -> bool:
    """Whether this machine has an account of that name that was not made for the class."""
    import pwd

    try:
        return Path(pwd.getpwnam(name).pw_dir) != home
    except KeyError:
        return False


def is_own(home: Path) -> bool:
    """Whether a learner's folder is that of an account made for the class under its name."""
    import pwd

    try:
        account = pwd.getpwnam(home.name)
    except KeyError:
        return False
    return Path(account.pw_dir) == home and account.pw_uid == home.stat().st_uid


def door(own: OwnPasswords, learners: Path | None):
    """Return the hub's authenticator, a class of JupyterHub's kind.

    In `learners` the accounts of learners have their homes; it is None where all work under one account.
    """
    from jupyterhub.auth import Authenticator, LocalAuthenticator
    from jupyterhub.authenticators.shared import SharedPasswordAuthenticator
    from tornado.web import HTTPError

    patience = Patience()

    class Door(SharedPasswordAuthenticator, LocalAuthenticator):
        async def authenticate(self, handler, data):
            name = self.normalize_username(data["username"])
            if not self.validate_username(name):
                return None
            who = name, address(handler.request)
            if wait := patience.wait(who):
                raise HTTPError(429, f"Too many wrong passwords: try again in {wait:.0f} s.")
            if learners and is_anothers(name, learners / name):
                raise HTTPError(403, f"The name {name} is taken on this machine: choose another.")
            known = await self._known(handler, name, data)
            if known:
                patience.right(who)
            else:
                patience.wrong(who)
                self.log.warning("A wrong password for %s from %s", *who)
            return known

        async def _known(self, handler, name, data):
            if name in self.admin_users:
                return await super().authenticate(handler, _plain(data, "password"))
            known = await super().authenticate(handler, _plain(data, "otp"))
            return known if known and own.fits(name, data["password"]) else None

        async def add_user(self, user):
            if learners:
                await super().add_user(user)
            else:
                Authenticator.add_user(self, user)

        def delete_user(self, user):
            own.forget(user.name)
            super().delete_user(user)

    return Door


def _plain(data: dict[str, str], field: str) -> dict[str, str]:
    """Return a form whose password is one of its fields; the hub cannot compare what is not plain letters."""
    said = data.get(field, "")
    return {**data, "password": said if said.isascii() else ""}
