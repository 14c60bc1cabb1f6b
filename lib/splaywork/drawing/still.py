"""Still and moving pictures for the pages of a notebook: they carry the lesson without a kernel, and say it in words."""

from collections.abc import Callable, Sequence
from functools import cached_property
from io import BytesIO
from typing import TYPE_CHECKING, Any

from PIL import Image

if TYPE_CHECKING:
    from ..common.text import Words
    from .canvas import Canvas

FRAMES, BYTES = 40, 400_000  # a moving picture has no more of either
FRAME_TIME, HELD = 90, 1600  # ms: of a frame, and of one that is to be looked at


class Still:
    """A picture and its meaning in words: Jupyter shows both, and gives the words to those who can't see the picture.

    draw: gives the canvas with the picture on it. It is called when the picture is first asked for, and once: of several
    stills a page may show only some.
    """

    def __init__(self, draw: "Callable[[], Canvas]", words: "Words | str") -> None:
        self._draw, self.words = draw, words

    @cached_property
    def canvas(self) -> "Canvas":
        """What it is drawn on, as it is drawn; `save_figure` writes its lines and letters."""
        return self._draw()

    @cached_property
    def png(self) -> bytes:
        """PNG bytes of the picture."""
        return self.canvas.png()

    def __repr__(self) -> str:
        return self.words

    def _repr_png_(self) -> Any:
        return self.png, {"alt": self.words}

    def _repr_mimebundle_(self, **_):
        return {"image/png": self.png, "text/plain": self.words}, {"image/png": {"alt": self.words}}

    def _ipython_display_(self):
        from IPython.display import display

        data, metadata = self._repr_mimebundle_()
        display(data, metadata=metadata, raw=True)
        display({"text/markdown": self.words, "text/plain": self.words}, raw=True)


class MovingStill(Still):
    """A `Still` that moves: its `canvas` is as the first frame shows it.

    show: draws a frame and gives the canvas with it. frames: what it takes, one for each frame, such as a share; one that
    comes again is drawn once. held: as `moving` takes it. ValueError for more than FRAMES frames.
    """

    def __init__(self, show: "Callable[[Any], Canvas]", words: "Words | str", frames: Sequence[Any],
                 held: Sequence = (0,)) -> None:
        super().__init__(lambda: show(frames[0]), words)
        _check_count(frames)
        self._show, self._frames, self._held = show, frames, held

    @cached_property
    def png(self) -> bytes:
        """PNG bytes of the moving picture. ValueError where that would be a file of more than BYTES."""
        drawn = {frame: self._show(frame).image() for frame in dict.fromkeys(self._frames)}
        self._show(self._frames[0])  # the canvas stays at the first frame
        return moving([drawn[frame] for frame in self._frames], self._held)


def _check_count(frames):
    if len(frames) > FRAMES:
        raise ValueError(f"A moving picture has at most {FRAMES} frames, and these are {len(frames)}: leave some out.")


def moving(frames: list[Image.Image], held: Sequence = (0,)) -> bytes:
    """One animated PNG of several pictures of one size and palette, the same bytes each time, without an end.

    The first is what paper shows. held: indices of those to look at for longer. ValueError for more than FRAMES pictures
    or a file of more than BYTES.
    """
    _check_count(frames)
    times = [HELD if number in {index % len(frames) for index in held} else FRAME_TIME for number in range(len(frames))]
    out = BytesIO()
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:], duration=times, loop=0, optimize=False,
                   compress_level=8)  # 9 takes more than twice as long, for a thirtieth of the bytes
    if out.tell() > BYTES:
        raise ValueError(f"A moving picture has at most {BYTES // 1000} kB, and this one has {out.tell() // 1000}: leave "
                         "frames out.")
    return out.getvalue()
