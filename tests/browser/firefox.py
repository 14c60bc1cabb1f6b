"""Debian's Firefox, spoken to by WebDriver BiDi, which it understands by itself: no driver and no build of its own is needed.

W3C, *WebDriver BiDi*: https://w3c.github.io/webdriver-bidi/ . Only the few commands that the tests want are here.
"""

import base64
import itertools
import json
import os
import shutil
import subprocess
import tempfile
from contextlib import contextmanager
from pathlib import Path

import websocket
from lab import until

FIREFOX = shutil.which("firefox-esr")
SCREENSHOTS = Path(__file__).parent / "screenshots"
IDLE = "() => document.querySelectorAll('.jp-Notebook-ExecutionIndicator[data-status=idle]').length"
ENTER, ESCAPE, CONTROL = "\uE007", "\uE00C", "\uE009"
# No page of its own at the start, no fetching of lists, nothing that waits for the network; and a page may take the focus.
PREFERENCES = {"dom.disable_window_flip": False, "browser.startup.page": 0, "app.update.auto": False,
               "datareporting.policy.dataSubmissionEnabled": False,
               "browser.safebrowsing.update.enabled": False, "extensions.getAddons.cache.enabled": False,
               "network.captive-portal-service.enabled": False, "network.connectivity-service.enabled": False,
               "services.settings.server": "data:,", "browser.shell.checkDefaultBrowser": False}


class Tab:
    """One page in Firefox, of 1280 × 720 pixels."""

    def __init__(self, connection):
        self._socket, self._numbers = connection, itertools.count(1)
        self._send("session.new", capabilities={})
        self._page = self._send("browsingContext.getTree")["contexts"][0]["context"]
        self._send("browsingContext.setViewport", context=self._page, viewport={"width": 1280, "height": 720})

    def _send(self, method, **parameters):
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:  # events come in between
            answer = json.loads(self._socket.recv())
            if answer.get("id") == number:
                assert answer["type"] == "success", f"{method}: {answer.get('message')}"
                return answer["result"]

    def go(self, url):
        """Open an address."""
        self._send("browsingContext.navigate", context=self._page, url=url, wait="complete")
        self.ask("() => window.focus()")  # from the address bar, or JupyterLab would take no notebook for the current one

    def ask(self, function, *given):
        """What a JavaScript function answers, by way of JSON; given: texts and numbers."""
        call = f"async () => JSON.stringify(await ({function})(...{json.dumps(given)}))"
        answer = self._send("script.callFunction", functionDeclaration=call, awaitPromise=True,
                            target={"context": self._page})
        assert answer["type"] == "success", answer["exceptionDetails"]["text"]
        return json.loads(answer["result"]["value"]) if answer["result"]["type"] == "string" else None

    def _act(self, kind, actions, **more):
        source = {"type": kind, "id": kind, "actions": actions} | more
        self._send("input.performActions", context=self._page, actions=[source])

    def drag(self, start, end):
        """The mouse button down at one point (x, y) of the window, moved to another in ten steps, and let go."""
        steps = [[round(start[axis] + (end[axis] - start[axis]) * part / 10) for axis in (0, 1)] for part in range(1, 11)]
        self._act("pointer", [{"type": "pointerMove", "x": round(start[0]), "y": round(start[1])},
                              {"type": "pointerDown", "button": 0},
                              *({"type": "pointerMove", "x": x, "y": y, "duration": 20} for x, y in steps),
                              {"type": "pointerUp", "button": 0}], parameters={"pointerType": "mouse"})

    def click(self, spot):
        """A click at a point of the window."""
        self._act("pointer", [{"type": "pointerMove", "x": round(spot[0]), "y": round(spot[1])},
                              {"type": "pointerDown", "button": 0}, {"type": "pointerUp", "button": 0}],
                  parameters={"pointerType": "mouse"})

    def type(self, text, *, end=ENTER):
        """Keys, one after another, and then Enter."""
        self._act("key", [{"type": kind, "value": key} for key in (*text, end) for kind in ("keyDown", "keyUp")])

    def chord(self, key):
        """A key while Control is held."""
        self._act("key", [{"type": kind, "value": value} for kind, value in (
            ("keyDown", CONTROL), ("keyDown", key), ("keyUp", key), ("keyUp", CONTROL))])

    def open_lab(self, server, path):
        """Open a notebook in JupyterLab."""
        self.go(f"{server.url}lab/tree/{path}?reset&token={server.token}")
        self.awaited(lambda: self.ask(IDLE), f"{path} is open", 120)

    def awaited(self, answer, what, seconds):
        """As `until`, with a screenshot of what was there instead."""
        try:
            return until(answer, what, seconds)
        except AssertionError:
            SCREENSHOTS.mkdir(exist_ok=True)
            (SCREENSHOTS / "firefox.png").write_bytes(self.shot())
            raise

    def shot(self):
        """The window as PNG bytes, to look at."""
        return base64.b64decode(self._send("browsingContext.captureScreenshot", context=self._page)["data"])


@contextmanager
def firefox():
    """A `Tab` of a Firefox without a window, with a profile and a home of its own."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        profile = os.path.join(home, "profile")
        os.mkdir(profile)
        with open(os.path.join(profile, "user.js"), "w", encoding="utf-8") as settings:
            settings.writelines(f"user_pref({json.dumps(name)}, {json.dumps(value)});\n" for name, value in PREFERENCES.items())
        command = [FIREFOX, "--headless", "--no-remote", "--remote-debugging-port", "0", "--profile", profile]
        process = subprocess.Popen(command, env=os.environ | {"HOME": home}, text=True, stdout=subprocess.DEVNULL,
                                   stderr=subprocess.PIPE)
        try:
            said = next(line for line in process.stderr if "WebDriver BiDi listening on" in line)
            connection = websocket.create_connection(said.split(" on ")[-1].strip() + "/session", timeout=120,
                                                     suppress_origin=True)
            yield Tab(connection)
            connection.close()
        finally:
            process.terminate()
            process.wait(20)
