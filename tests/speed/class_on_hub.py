"""A class on a real JupyterHub: five users, each with a server of their own, run a notebook and drag a slider.

    .venv/bin/pip install jupyterhub && npm install --prefix /tmp/proxy configurable-http-proxy
    PATH=/tmp/proxy/node_modules/.bin:$PATH .venv/bin/python tests/speed/class_on_hub.py [users, 5] [seconds, 20]

The hub listens on loopback only, with a throw-away folder and tokens made for this run; its spawner starts plain local
processes and its users have no passwords: for a trial, never for a class. Printed: as by bench_class.py.
"""

import asyncio
import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.error import URLError

from bench_class import LESSON, kernels_of, report, teach
from learner import Learner, ask
from rig import NOTEBOOKS, until

CONFIG = """
c.JupyterHub.bind_url = "http://127.0.0.1:{port}"
c.JupyterHub.hub_port = {hub_port}
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:{proxy_port}"
c.JupyterHub.spawner_class = "simple"  # a local process for each user
c.JupyterHub.authenticator_class = "dummy"
c.DummyAuthenticator.password = {password!r}
c.Authenticator.allow_all = True
c.Spawner.notebook_dir = {home!r}  # each learner's own copy of the notebooks
c.Spawner.default_url = "/lab/tree/00_start_here.ipynb"
c.Spawner.environment = {environment!r}
c.Spawner.args = {args!r}
c.JupyterHub.services = [{{"name": "class", "api_token": {token!r}}}]
c.JupyterHub.load_roles = [{{"name": "teacher", "services": ["class"], "scopes": ["admin:users", "admin:servers",
                                                                               "tokens", "access:servers"]}}]
"""


def free_ports(count):
    """Ports of loopback that nobody listens on."""
    probes = [socket.socket() for _ in range(count)]
    for probe in probes:
        probe.bind(("127.0.0.1", 0))
    ports = [probe.getsockname()[1] for probe in probes]
    for probe in probes:
        probe.close()
    return ports


def start_hub(scratch, token):
    """(process, address) of a hub that answers."""
    port, hub_port, proxy_port = free_ports(3)
    homes = str(scratch / "homes" / "{username}")
    environment = {name: os.environ[name] for name in ("PYTHONPATH",) if name in os.environ}
    args = ["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    (scratch / "config.py").write_text(CONFIG.format(port=port, hub_port=hub_port, proxy_port=proxy_port, home=homes,
                                                     password=secrets.token_hex(), environment=environment, token=token,
                                                     args=args))
    command = [sys.executable, "-m", "jupyterhub", "-f", "config.py"]
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])  # where jupyterhub-singleuser is
    with (scratch / "hub.log").open("w") as log:
        process = subprocess.Popen(command, cwd=scratch, stdout=log, stderr=log, env=os.environ | {"PATH": path})
    url = f"http://127.0.0.1:{port}/"

    def answers():
        assert process.poll() is None, f"JupyterHub did not start:\n{(scratch / 'hub.log').read_text()}"
        try:
            return ask(url, token, "hub/api/")
        except (URLError, ConnectionError, json.JSONDecodeError):  # not yet listening
            return None

    until(answers, "JupyterHub answers", 60)
    return process, url


def enrol(scratch, url, token, name):
    """A user with a server that runs, as a Learner."""
    shutil.copytree(NOTEBOOKS, scratch / "homes" / name, ignore=shutil.ignore_patterns("out", ".ipynb_checkpoints"))
    ask(url, token, f"hub/api/users/{name}", {})
    ask(url, token, f"hub/api/users/{name}/server", {})
    until(lambda: ask(url, token, f"hub/api/users/{name}")["servers"].get("", {}).get("ready"),
          f"{name} has a server", 90)
    own = ask(url, token, f"hub/api/users/{name}/tokens", {"note": "class"})["token"]
    return Learner(f"{url}user/{name}/", own, LESSON, name)


def main(count=5, seconds=20.0):
    with tempfile.TemporaryDirectory() as scratch:
        scratch, token = Path(scratch), secrets.token_hex()
        hub, url = start_hub(scratch, token)
        try:
            learners = [enrol(scratch, url, token, f"learner-{number}") for number in range(1, count + 1)]
            ready, troubles = asyncio.run(teach(learners, seconds))
            sizes = [process.memory_full_info() for process in kernels_of(hub.pid)]
            for learner in learners:
                ask(url, token, f"hub/api/users/{learner.name}/server", method="DELETE")
        finally:
            hub.terminate()
            hub.wait(30)
    print("\n".join(report(learners, ready, troubles, ([size.uss for size in sizes], [size.pss for size in sizes]))))
    return len(troubles)


if __name__ == "__main__":
    sys.exit(main(*(kind(text) for kind, text in zip((int, float), sys.argv[1:], strict=False))))
