"""A learner as a Jupyter server sees one: opens a notebook, runs it, and drags a slider of its panel by script."""

import asyncio
import json
import uuid
from statistics import median
from time import perf_counter
from urllib.request import Request, urlopen

import nbformat
from jupyter_server.services.kernels.connection.base import deserialize_binary_message
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

PAUSE = 1 / 60  # seconds between one move and the next, at the least: as fast as a hand is followed


def ask(url, token, path, content=None, method=None):
    """What a server's own interface answers, as parsed JSON; `content` is sent as JSON."""
    body = None if content is None else json.dumps(content).encode()
    method = method or ("POST" if body else "GET")
    request = Request(url + path, body, {"Authorization": f"token {token}"}, method=method)
    with urlopen(request, timeout=60) as answer:
        return json.loads(answer.read() or "null")


class Learner:
    """One learner on a server; `echoes`: seconds from each move of the slider to the picture that answers it."""

    def __init__(self, url, token, notebook, name):
        self.url, self.token, self.name, self.notebook = url, token, name, notebook
        self.echoes, self.widgets = [], {}

    def leave(self):
        """Close the socket; the kernel stays."""
        self._socket.close()

    async def start(self):
        """Open a session, with a kernel of its own, and a socket to it."""
        wanted = {"path": f"{self.name}.ipynb", "name": self.name, "type": "notebook", "kernel": {"name": "python3"}}
        session = await asyncio.to_thread(ask, self.url, self.token, "api/sessions", wanted)
        self.kernel = session["kernel"]["id"]
        channels = f"ws{self.url.removeprefix('http')}api/kernels/{self.kernel}/channels"
        self._socket = await websocket_connect(HTTPRequest(channels, headers={"Authorization": f"token {self.token}"}),
                                               max_message_size=2 ** 26)

    async def run_all(self, cells):
        """Send all cells at once, as Run All Cells does, and wait for the last; RuntimeError if one fails."""
        for code in cells:
            await self._send("shell", "execute_request",
                             {"code": code, "silent": False, "stop_on_error": True, "allow_stdin": False})
        await self._until_idle()

    async def run_notebook(self):
        """Run every code cell; RuntimeError, with the kernel's words, if one fails."""
        for cell in nbformat.read(self.notebook, as_version=4).cells:
            if cell.cell_type == "code":
                await self.run_code(cell.source)

    async def run_code(self, code):
        """Run one cell; RuntimeError, with the kernel's words, if it fails."""
        await self.run_all([code])

    async def drag(self, seconds):
        """Move the first slider to and fro, each move sent when the one before is done, as the widgets in a page do."""
        slider = self.first("FloatSliderModel")
        image = self._picture_beside(slider)

        def shows(message):
            return message["content"].get("comm_id") == image and message.get("buffers")

        low, high, step = (self.widgets[slider][name] for name in ("min", "max", "step"))
        value, way, end = self.widgets[slider]["value"], step, perf_counter() + seconds
        while perf_counter() < end:
            way = -way if not low <= value + way <= high else way
            value += way
            taken = await self.move(slider, value, shows)
            self.echoes.append(taken)
            await asyncio.sleep(max(0.0, PAUSE - taken))

    async def move(self, slider, value, shows):
        """Seconds from a slider's move to the message that `shows` the picture; RuntimeError when none comes."""
        sent = perf_counter()
        await self._send("shell", "comm_msg", {"comm_id": slider, "data": {"method": "update", "state": {
            "value": value}, "buffer_paths": []}})
        shown = await self._until_idle(shows)
        if shown is None:
            raise RuntimeError(f"{self.name}: the slider went to {value} and no picture came")
        return shown - sent

    @property
    def echo(self):
        """Median of the echoes, seconds."""
        return median(self.echoes)

    def first(self, model):
        """The comm of the first widget of a kind."""
        return next(name for name, state in self.widgets.items() if state["_model_name"] == model)

    def slider_of(self, label):
        """The comm of the slider beside the box with a label."""
        box = next(name for name, state in self.widgets.items() if state.get("description") == label)
        return next(self._children(name)[1] for name in self.widgets if self._children(name)[:1] == [box])

    def _picture_beside(self, slider):
        """The picture of the panel that holds the slider."""
        box = slider
        while not any(self._model(child) == "ImageModel" for child in self._children(box)):
            box = next(name for name in self.widgets if box in self._children(name))
        return next(child for child in self._children(box) if self._model(child) == "ImageModel")

    def _children(self, name):
        return [child.removeprefix("IPY_MODEL_") for child in self.widgets[name].get("children", ())]

    def _model(self, name):
        return self.widgets[name]["_model_name"]

    async def _send(self, channel, kind, content):
        self._asked = uuid.uuid4().hex
        header = {"msg_id": self._asked, "msg_type": kind, "username": self.name, "session": self.name, "version": "5.3",
                  "date": ""}
        await self._socket.write_message(json.dumps({"channel": channel, "header": header, "parent_header": {},
                                                     "metadata": {}, "content": content, "buffers": []}))

    async def _until_idle(self, shows=None):
        """Read what comes until the kernel has done what was asked; when the last message came that `shows` takes."""
        shown = None
        while True:
            frame = await self._socket.read_message()
            if frame is None:
                raise RuntimeError(f"{self.name}: the server closed the connection")
            message = json.loads(frame) if isinstance(frame, str) else deserialize_binary_message(frame)
            kind, content = message["header"]["msg_type"], message["content"]
            if kind == "error":
                raise RuntimeError(f"{self.name}: {content['ename']}: {content['evalue']}")
            if kind == "comm_open":
                self.widgets[content["comm_id"]] = content["data"]["state"]
            if kind == "comm_msg" and content["data"].get("method") == "update":
                self.widgets.get(content["comm_id"], {}).update(content["data"]["state"])
            if shows and shows(message):
                shown = perf_counter()
            mine = message["parent_header"].get("msg_id") == self._asked
            if mine and kind == "status" and content["execution_state"] == "idle":
                return shown
