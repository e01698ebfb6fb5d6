"""A class's hub, started in a folder of its own, and learners who use it as a browser does: by form, HTTP and websocket."""

import json
import os
import re
import signal
import subprocess
import sys
import time
import uuid
from pathlib import Path

import requests
from websocket import create_connection

NOBODY = 65534
PATIENCE = 900  # s, for one cell of one learner while all are at it


class Hub:
    """The hub that ``python -m limekit classroom`` wrote into a folder, running.

    Started by root, it gives each learner an account, which goes at the end; with `one_account` all work under nobody's.
    """

    def __init__(self, folder, port, one_account=False):
        self.folder, self.url = Path(folder), f"http://127.0.0.1:{port}"
        self.under = {}
        self.apart = os.geteuid() == 0 and not one_account
        self.folder.chmod(0o755)
        if os.geteuid() == 0 and one_account:
            self.under = {"user": NOBODY, "group": NOBODY, "extra_groups": []}
            os.chown(self.folder, NOBODY, NOBODY)
        self.log = (self.folder / "log.txt").open("w+")

    def __enter__(self):
        command = [sys.executable, "-m", "jupyterhub", "-f", str(self.folder / "jupyterhub_config.py")]
        settings = {**os.environ, "HOME": str(self.folder), "PYTHONUNBUFFERED": "1"}
        self.process = subprocess.Popen(
            command, cwd=self.folder, env=settings, stdout=self.log, stderr=self.log, **self.under
        )
        while "JupyterHub is now running" not in self.said():
            if self.process.poll() is not None:
                raise RuntimeError(self.said())
            time.sleep(0.2)
        self.password = re.search(r"class's password is +(\S+)", self.said())[1]
        return self

    def __exit__(self, *fault):
        self.process.send_signal(signal.SIGTERM)
        self.process.wait(timeout=120)
        self.log.close()
        if self.apart:
            for home in (self.folder / "learners").iterdir():
                subprocess.run(["userdel", home.name], check=True)

    def said(self):
        """Return what the hub, its proxy and the learners' servers wrote."""
        return (self.folder / "log.txt").read_text(errors="replace")


class Learner:
    """One who logs in by the hub's form and runs lessons in their own server."""

    def __init__(self, hub, name):
        self.hub, self.name, self.web = hub, name, requests.Session()
        self.server = f"{hub.url}/user/{name}"

    def log_in(self, password=None, own="a-word-of-my-own"):
        """Send the login form, the class's password and one's own; return whether the hub took it."""
        form = self.web.get(f"{self.hub.url}/hub/login", timeout=PATIENCE)
        words = {"username": self.name, "password": own, "otp": password or self.hub.password, "_xsrf": self._xsrf()}
        answer = self.web.post(form.url, data=words, timeout=PATIENCE, allow_redirects=False)
        return answer.status_code == 302

    def start(self):
        """Go to one's own page, wait as the waiting page does, and return the seconds until it is there."""
        began = time.monotonic()
        while True:
            page = self.web.get(f"{self.hub.url}/hub/spawn", timeout=PATIENCE)
            page.raise_for_status()
            if page.url.startswith(self.server) and page.ok:
                return time.monotonic() - began
            progress = re.search(r'EventSource\("([^"]+)"|data-progress-url="([^"]+)"', page.text)
            if progress:
                self.web.get(self.hub.url + next(filter(None, progress.groups())), timeout=PATIENCE)
            if time.monotonic() - began > PATIENCE:
                raise TimeoutError(f"{self.name}: no page, but {page.url}")
            time.sleep(1)

    def lesson(self, name):
        """Return the cells of a lesson in the learner's own folder."""
        answer = self.web.get(f"{self.server}/api/contents/{name}.ipynb", timeout=PATIENCE)
        answer.raise_for_status()
        return [cell["source"] for cell in answer.json()["content"]["cells"] if cell["cell_type"] == "code"]

    def kernel(self, name):
        """Open a lesson: a kernel of its own, as the lab starts one; return the wire to it."""
        wanted = {"path": f"{name}.ipynb", "name": name, "type": "notebook", "kernel": {"name": "python3"}}
        headers = {"X-XSRFToken": self._xsrf(f"/user/{self.name}/"), "Referer": f"{self.server}/lab"}
        answer = self.web.post(f"{self.server}/api/sessions", json=wanted, headers=headers, timeout=PATIENCE)
        answer.raise_for_status()
        wire = f"{self.server.replace('http', 'ws', 1)}/api/kernels/{answer.json()['kernel']['id']}/channels"
        request = requests.Request("GET", f"{self.server}/api/kernels")
        cookies = self.web.prepare_request(request).headers["Cookie"]
        return create_connection(
            f"{wire}?session_id={uuid.uuid4().hex}", cookie=cookies, origin=self.hub.url, timeout=PATIENCE
        )

    def _xsrf(self, path=None):
        found = [one for one in self.web.cookies if one.name == "_xsrf"]
        return next((one.value for one in found if one.path == path), found[0].value)


def run(wire, source):
    """Run one cell; return what it printed, and its error or None."""
    asked = uuid.uuid4().hex
    header = {"msg_id": asked, "msg_type": "execute_request", "username": "", "session": "trial", "version": "5.3"}
    content = {"code": source, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False}
    wire.send(
        json.dumps(
            {
                "channel": "shell",
                "header": header,
                "parent_header": {},
                "metadata": {},
                "content": content,
                "buffers": [],
            }
        )
    )
    printed, replied, idle, error = [], False, False, None
    while not (replied and idle):
        frame = wire.recv()
        if isinstance(frame, bytes):  # pictures of numbers: a JSON part, then buffers
            start, end = (int.from_bytes(frame[4 * n : 4 * n + 4], "big") for n in (1, 2))
            frame = frame[start : end if end > start else None].decode()
        if not frame:
            raise ConnectionError("the kernel's wire was closed")
        message = json.loads(frame)
        kind, body = message["msg_type"], message["content"]
        if message["parent_header"].get("msg_id") != asked:
            if kind == "status" and body["execution_state"] in ("restarting", "dead"):
                return "".join(printed), f"the kernel is {body['execution_state']}"
            continue
        if kind == "stream":
            printed.append(body["text"])
        elif kind == "error":
            error = f"{body['ename']}: {body['evalue']}"
        elif kind == "execute_reply":
            replied = True
        elif kind == "status":
            idle = body["execution_state"] == "idle"
    return "".join(printed), error
