"""JupyterLab in a real browser: the server, a notebook's page, and the panels on it.

All that Jupyter writes goes to a throw-away folder, and it serves a copy of the notebooks.
"""

import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager, suppress
from pathlib import Path

import psutil

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
SCREEN = {"width": 1280, "height": 720}
HOMES = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "JUPYTERLAB_SETTINGS_DIR",
         "JUPYTERLAB_WORKSPACES_DIR", "IPYTHONDIR")
# No news from outside; and no notebook saved by itself, after two minutes, with its panels, and cells that tests have added.
SETTINGS = {"@jupyterlab/apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
            "@jupyterlab/docmanager-extension/plugin": {"autosave": False}}

MESSAGE, IDLE = re.compile(rb'"msg_id": ?"([^"]+)"'), re.compile(rb'"execution_state": ?"idle"')

# what jupyter_server logs when it is asked for its kernels while one is being started: that one has no last activity yet
LISTED_TOO_EARLY = re.compile(r"^\[E [^\n]*GET /api/kernels\?(?:(?!^\[I ).)*?^\[E [^\n]*500 GET /api/kernels\?[^\n]*$",
                              re.M | re.S)

DIALS = ".widget-hbox:has(> .widget-text):has(.noUi-handle)"  # not a field that has no slider

# All that a panel shows, at one moment; the picture as a digest of its decoded pixels, or null while it loads.
# (textContent, for innerText is empty while JupyterLab leaves out what is off the screen.)
# a dial's box, not a field that has no slider
SEEN = """async root => {
    const BOXES = ".widget-hbox:has(> .widget-text):has(.noUi-handle) > .widget-text input[type=text]";
    const all = (selector, say) => Array.from(root.querySelectorAll(selector), say);
    const image = root.querySelector(":scope > img.widget-image");
    const lines = all(":scope > .widget-html .widget-html-content", line => line.textContent);
    const seen = {sentence: lines[0], message: lines[1], texts: all(BOXES, box => box.value),
                  handles: all(".noUi-handle", handle => Number(handle.ariaValueText)), picture: null};
    const digests = window.digests ??= new Map(), address = image.src;  // each new picture has an address of its own
    if (!image.complete || !image.naturalWidth) return seen;
    if (!digests.has(address)) {
        const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight).getContext("2d");
        canvas.drawImage(image, 0, 0);
        const pixels = canvas.getImageData(0, 0, image.naturalWidth, image.naturalHeight).data;
        const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", pixels));
        digests.set(address, Array.from(digest, byte => byte.toString(16).padStart(2, "0")).join(""));
    }
    seen.picture = digests.get(address);
    return seen;
}"""

# Waits until the page is done with what it is at. (Neither a timer nor an idle callback: a page behind another waits seconds
# for those.)
NEXT_TURN = """new Promise(done => {
    const {port1, port2} = new MessageChannel();
    port1.onmessage = done;
    port2.postMessage(0);
})"""

# The words of labels, buttons, headings, lists and fields of a panel that are wider than their place, and how many were looked
# at. fields: for each dial's field the texts that it may have to show.
CUT_OFF = """(root, fields) => {
    const pen = document.createElement("canvas").getContext("2d"), cut = [];
    const room = node => { const style = getComputedStyle(node);
        pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
        return node.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) + 1; };
    const seen = selector => Array.from(root.querySelectorAll(selector)).filter(node => node.getClientRects().length);
    const named = seen("label, button, .jupyter-widget-Collapse-header, .widget-html-content");
    for (const node of named) if (node.scrollWidth > node.clientWidth + 1) cut.push(node.textContent);
    const typed = seen("input[type=text]");
    for (const node of typed) if (pen.measureText(node.value || node.placeholder).width > room(node)) cut.push(node.value);
    const dials = Array.from(root.querySelectorAll("DIALS")).map(dial => dial.querySelector("input[type=text]"));
    dials.forEach((node, number) => { for (const text of fields[number] || []) {
        const free = room(node);
        if (node.getClientRects().length && pen.measureText(text).width > free) cut.push(text); } });
    const lists = seen("select:not([multiple])");
    for (const node of lists) {
        const text = node.selectedOptions[0] ? node.selectedOptions[0].textContent : "", free = room(node);
        if (pen.measureText(text).width > free) cut.push(text);
    }
    return [named.length + typed.length + lists.length, cut]; }""".replace("DIALS", DIALS)


def until(answer, what, seconds=20):
    """The first truthy `answer()`; AssertionError saying `what` was awaited when none comes in time."""
    end = time.monotonic() + seconds
    while not (got := answer()):
        assert time.monotonic() < end, f"waited {seconds} s in vain until {what}"
        time.sleep(0.03)
    return got


class Lab:
    """A JupyterLab server on a free loopback port, with a random token of its own, over a copy of a folder."""

    def __init__(self, notebooks, scratch):
        leave = shutil.ignore_patterns(".ipynb_checkpoints", "out")
        self.folder = Path(shutil.copytree(notebooks, scratch / "notebooks", ignore=leave))
        self._log, self._read = scratch / "server.log", 0
        homes = {name: scratch / name.lower() for name in HOMES}
        for plugin, values in SETTINGS.items():
            settings = homes["JUPYTERLAB_SETTINGS_DIR"] / f"{plugin}.jupyterlab-settings"
            settings.parent.mkdir(parents=True)
            settings.write_text(json.dumps(values))
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        command = [sys.executable, "-m", "jupyterlab", "--no-browser", f"--ServerApp.root_dir={self.folder}",
                   "--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}", "--ServerApp.port_retries=0",
                   "--LabApp.extension_manager=readonly"]  # the usual one asks PyPI what there is
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.append("--allow-root")
        with self._log.open("w") as log:
            self._process = subprocess.Popen(command, cwd=scratch, stdout=log, stderr=log,
                                             env=os.environ | {name: str(path) for name, path in homes.items()})
        self._runtime = homes["JUPYTER_RUNTIME_DIR"] / f"jpserver-{self._process.pid}.json"
        try:
            until(self._answers, "JupyterLab answers", 60)
        except BaseException:
            self.stop()
            raise

    @property
    def pid(self):
        """The server's process."""
        return self._process.pid

    def _answers(self):
        assert self._process.poll() is None, f"JupyterLab did not start:\n{self._log.read_text()}"
        try:
            server = json.loads(self._runtime.read_text())
            self.url, self.token = server["url"], server["token"]
            return self.ask("api/status")
        except (OSError, json.JSONDecodeError):  # not yet written, or not yet listening
            return None

    def ask(self, path, method="GET"):
        """What the server's own interface answers, as bytes."""
        headers = {"Authorization": f"token {self.token}"}
        request = urllib.request.Request(self.url + path, method=method, headers=headers)
        with urllib.request.urlopen(request, timeout=10) as answer:
            return answer.read()

    def shut_kernels(self):
        """End every kernel."""
        for session in json.loads(self.ask("api/sessions")):
            until(lambda session=session: self._ended(session["id"]), "the kernel is ended", 60)

    def _ended(self, session):
        try:
            self.ask(f"api/sessions/{session}", "DELETE")
        except urllib.error.HTTPError as wrong:  # 500: a kernel that is being restarted can't be ended yet
            return wrong.code == 404
        return True

    def new_errors(self):
        """Lines at error level, and tracebacks, that server and kernels logged since this was last asked."""
        text = self._log.read_text()
        fresh, self._read = LISTED_TOO_EARLY.sub("", text[self._read:]), len(text)
        # [C … is critical; the server also says its own address at that level when it starts
        wrong = re.compile(r"^\[E |^\[C (?!.*ServerApp\] $)|Traceback|\bERROR\b|\bCRITICAL\b")
        return [line for line in fresh.splitlines() if wrong.search(line)]

    def stop(self):
        """End the server and its kernels."""
        self._process.terminate()
        try:
            self._process.wait(20)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()


def kernels(server):
    """The server's kernels, as processes."""
    return {process for process in psutil.Process(server.pid).children(recursive=True)
            if "ipykernel_launcher" in " ".join(process.cmdline())}


def _as_bytes(frame):
    return frame if isinstance(frame, bytes) else frame.encode()


class Notebook:
    """A notebook open in a tab of its own. `troubles` gathers what went wrong behind the page, as lines of text."""

    PLACE = "lab/tree/{}?reset&"

    def __init__(self, browser, lab, path):
        self.troubles, self._connected, self._ran, self._unanswered = [], False, False, set()
        self.page = browser.new_page()
        self.page.set_default_timeout(20_000)
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.troubles.append(f"page: {error}"))
        self.page.on("websocket", self._listen)
        self.page.goto(f"{lab.url}{self.PLACE.format(path)}token={lab.token}")
        self.page.locator(".jp-Notebook").wait_for()
        self._wait_idle()

    def _console(self, message):
        if message.type == "error" and "/api/kernels?" not in str(message.location):  # LISTED_TOO_EARLY
            self.troubles.append(f"console: {message.text} {message.location}")

    def _listen(self, socket):
        socket.on("framereceived", self._message)
        socket.on("framesent", self._sent)

    def _sent(self, frame):
        frame = _as_bytes(frame)
        if b"comm_msg" in frame:
            self._unanswered |= set(MESSAGE.findall(frame)[:1])

    def is_quiet(self):
        """Whether the kernel has answered all that widgets sent, the page has shown the answers, and nothing follows: a slider
        keeps its newest value back until the one before it is answered."""
        quiet = not self._unanswered
        self.page.wait_for_timeout(60)  # in which messages are heard
        self.page.evaluate(NEXT_TURN)
        return quiet and not self._unanswered

    def _message(self, frame):
        # What a slider's callback raises, or warns of, shows nowhere on the page: only these messages carry it.
        frame = _as_bytes(frame)
        self._connected = self._connected or b"kernel_info_reply" in frame
        self._ran = self._ran or b"execute_input" in frame
        if IDLE.search(frame):
            self._unanswered -= set(MESSAGE.findall(frame))
        # Before the first cell has run, JupyterLab asks a kernel without ipywidgets for its widgets: "No such comm".
        asks = not self._ran and b'"text": "No such comm' in frame
        if re.search(rb'"msg_type": ?"error"|"name": ?"stderr"', frame) and not asks:
            self.troubles.append(f"kernel: {frame[-2000:].decode(errors='replace')}")

    def _wait_idle(self):
        # A page says "idle" before it has a kernel at all, and running a cell then asks which kernel to start.
        idle = self.page.locator(".jp-Notebook-ExecutionIndicator[data-status=idle]")
        until(lambda: idle.count() and self._connected, "the kernel is connected and idle", 60)

    def _menu(self, menu, entry):
        self.page.get_by_role("menuitem", name=menu, exact=True).click()
        self.page.get_by_role("menuitem", name=entry, exact=True).click()

    def _choose(self, menu, entry, done):
        for _ in range(3):  # a page that has just come may miss a menu's click
            self._menu(menu, entry)
            with suppress(AssertionError):
                until(done, f"{entry} is under way", 10)
                break

    @property
    def code(self):
        """The code cells."""
        return self.page.locator(".jp-CodeCell")

    def prompts(self):
        """The text before each code cell: "[3]:" when it has run, "[*]:" while it waits or runs."""
        return self.code.locator(".jp-InputPrompt").all_text_contents()

    def _unrun(self):
        return set(self.prompts()) <= {"[ ]:", ""}  # a cell that is folded away shows no number

    def run_all(self):
        """Run every cell, top to bottom, and wait; the stored outputs are cleared first, so that what shows is new."""
        self._unanswered.clear()  # a kernel that ended answers nothing more
        self._choose("Edit", "Clear Outputs of All Cells", self._unrun)
        self._choose("Run", "Run All Cells", lambda: not self._unrun())
        until(lambda: not {"[ ]:", "[*]:"} & set(self.prompts()) or self.errors(), "all cells have run", 120)
        self._wait_idle()

    def errors(self):
        """The text of every error and warning that a cell shows."""
        kinds = ("application/vnd.jupyter.error", "application/vnd.jupyter.stderr")
        return self.code.locator(", ".join(f'[data-mime-type="{kind}"]' for kind in kinds)).all_text_contents()

    def add_and_run(self, code):
        """Put a new cell at the end and start it, without waiting for it to finish."""
        count = self.code.count()
        last = self.page.locator(".jp-Notebook .jp-Cell").last
        last.locator(".jp-InputPrompt").click()
        self.page.keyboard.press("Escape")
        self.page.keyboard.press("b")
        until(lambda: self.code.count() > count, "there is a new cell")
        self.page.keyboard.press("Enter")
        self.page.keyboard.insert_text(code)
        self.page.keyboard.press("Control+Enter")
        until(self.is_busy, "the new cell runs")

    def is_busy(self):
        """Whether a cell waits or runs."""
        return "[*]:" in self.prompts()

    def wait_until_done(self):
        """Wait until no cell waits or runs."""
        until(lambda: not self.is_busy(), "the cells have run", 60)
        self._wait_idle()

    def panels(self, dials):
        """The panels on the page, from the top, once all are there; `dials` says how many dials each has."""
        roots = self.page.locator(".splaywork-panel:has(> img.widget-image)")
        until(lambda: roots.count() == len(dials), f"there are {len(dials)} panels")
        return [Panel(roots.nth(index), count, self.is_quiet) for index, count in enumerate(dials)]

    def close(self):
        """Close the tab; nothing is saved."""
        self.page.close()


class Notebook7(Notebook):
    """A notebook open in Notebook 7, which the same server serves at an address of its own."""

    PLACE = "notebooks/{}?"

    def _console(self, message):
        if ".woff" not in message.text + str(message.location):  # its own icons, which it now and then asks for signed out
            super()._console(message)

    def run_all(self):
        """As in JupyterLab; what Notebook 7 complains of before any cell has run is not ours."""
        self.troubles.clear()
        super().run_all()


class Panel:
    """A panel, opened out. `dials` in the order of the page; `is_quiet` says whether nothing more is to come."""

    def __init__(self, root, dials, is_quiet=None):
        self.root, self.page, self.is_quiet = root, root.page, is_quiet
        self.image = root.locator("> img.widget-image")
        rows = root.locator(DIALS)
        until(lambda: rows.count() == dials, f"the panel has its {dials} dials")
        self.unfold()
        self.dials = [Dial(rows.nth(index)) for index in range(dials)]

    def unfold(self):
        """Open what is folded away."""
        folded = self.root.locator(".jupyter-widget-Collapse:not(.jupyter-widget-Collapse-open)")
        while folded.count():  # each that opens is no longer one of them
            folded.first.locator(".jupyter-widget-Collapse-header").click()

    def seen(self):
        """What it shows: picture (a digest of its pixels), sentence, message, texts in the boxes, handles' places."""
        return self.root.evaluate(SEEN)

    def press(self, name):
        """Press a button."""
        self.root.get_by_role("button", name=name, exact=True).click()

    def buttons(self):
        """The names of its buttons, but for the one that fills the window and those of a player, which have none."""
        shown = self.root.locator("button:not(.splaywork-fill)").filter(visible=True)  # not those that answer a question
        return [name.strip() for name in shown.all_text_contents() if name.strip()]


class Dial:
    """A labelled field and the slider beside it."""

    def __init__(self, row):
        self.page = row.page
        self.name = until(row.locator(".widget-text label").text_content, "the dial has its name")
        self.field = row.locator("input[type=text]")
        self.track = row.locator(".noUi-base")
        self.handle = row.locator(".noUi-handle")
        self.locked = self.field.is_disabled()

    def text(self):
        """What the field shows."""
        return self.field.input_value()

    def at(self):
        """Where the handle stands, as a number."""
        return float(self.handle.get_attribute("aria-valuetext"))

    def type(self, text):
        """Type a text and press Enter."""
        self.field.fill(text)
        self.field.press("Enter")

    def _at_rest(self):
        """Where the handle and its track are, once two looks a tenth of a second apart find them at one place."""
        first = self.handle.bounding_box(), self.track.bounding_box()
        self.page.wait_for_timeout(100)
        return first if first == (self.handle.bounding_box(), self.track.bounding_box()) else None

    @contextmanager
    def held(self):
        """With the mouse button down on the handle; gives a function that moves it to a part (0…1) of the track."""
        self.handle.scroll_into_view_if_needed()
        spot, track = until(self._at_rest, f"the page keeps {self.name} still")
        level = spot["y"] + spot["height"] / 2
        self.page.mouse.move(spot["x"] + spot["width"] / 2, level)
        until(lambda: self.handle.evaluate("node => node.matches(':hover')"), f"the mouse is on the handle of {self.name}")
        self.page.mouse.down()
        yield lambda part: self.page.mouse.move(track["x"] + part * track["width"], level, steps=5)
        self.page.mouse.up()

    def drag(self, *parts):
        """Drag the handle to each of these parts (0…1) of the track in turn, and let go.

        Once more where the page scrolled by itself and took the handle from under the mouse.
        """
        for _ in range(2):
            was = self.at()
            with self.held() as move:
                for part in parts:
                    move(part)
            if self.locked or self.at() != was:
                return

    def press(self, *keys):
        """Press keys on the handle."""
        for key in keys:
            self.handle.press(key)

    def reach(self, value):
        """Wait until the handle stands at a value."""
        until(lambda: abs(self.at() - value) < 1e-6, f"{self.name} stands at {value}", 10)


@contextmanager
def chromium():
    """A browser without a window, whose tabs share what has been loaded."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser.new_context(viewport=SCREEN)
        browser.close()
