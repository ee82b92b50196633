"""Renditions of photographs and drawings, made by child processes that may be killed any time."""

import contextlib
import json
import subprocess
import sys
import threading
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.imaging.turns import Turns

TIME_LIMIT_S = 30.0


class Renditions(NamedTuple):
    """The upright size of the original, and JPEG bytes by longest side."""

    width_px: int
    height_px: int
    pictures: dict[int, bytes]


class Drawn(NamedTuple):
    """A drawing's picture, and how many pages its file has."""

    media_type: str
    width_px: int
    height_px: int
    pages: int
    content: bytes


class Renderer:
    """One warm child for photographs; each drawing has its own, so that none holds them up."""

    def __init__(self, time_limit_s: float = TIME_LIMIT_S) -> None:
        self._time_limit_s = time_limit_s
        self._lock, self._warm = threading.Lock(), _Child(time_limit_s)
        self._drawings = Turns("Other drawings are being made pictures.")

    def render(self, content: bytes, sizes_px: list[int]) -> Renditions:
        """Return renditions with these longest sides, or refuse a file that is no picture."""
        with self._lock:
            head, pictures = self._warm.ask(content, {"sizes_px": sizes_px})
        if "code" in head:
            raise Refused(head["code"], head["message"], "Add a JPEG or PNG of usual size.")
        by_size = dict(zip(sizes_px, pictures, strict=True))
        return Renditions(head["width_px"], head["height_px"], by_size)

    def draw(self, content: bytes, page: int) -> Drawn:
        """Return the picture of a drawing: PNG, JPEG, SVG, or a page of a PDF; else refuse.

        `wait` where two others wait already.
        """
        with self._drawings.take():
            child = _Child(self._time_limit_s)
            try:
                head, pictures = child.ask(content, {"page": page})
            finally:
                child.end()
        if "code" in head:
            raise Refused(head["code"], head["message"], "Add a PNG, JPEG, SVG or PDF.")
        told = (head["media_type"], head["width_px"], head["height_px"], head["pages"])
        return Drawn(*told, pictures[0])

    def close(self) -> None:
        """End the warm child; that of a drawing ends with its drawing."""
        with self._lock:
            self._warm.end()


class _Child:
    """A child process, started when first needed and again after a fault; for one thread."""

    def __init__(self, time_limit_s: float) -> None:
        self._time_limit_s = time_limit_s
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def pid(self) -> int | None:
        """Return its number, none where it is not running."""
        return self._process.pid if self._process else None

    def ask(self, content: bytes, asked: dict[str, Any]) -> tuple[dict[str, Any], list[bytes]]:
        child = self._running()
        alarm = threading.Timer(self._time_limit_s, child.kill)
        alarm.start()
        try:
            return _exchange(child, content, asked)
        except (OSError, ValueError) as error:
            self.end()
            raise Refused(
                "unreadable_picture",
                f"Decoding the picture of {len(content)} bytes took too long or too much memory.",
                "Add a JPEG or PNG of usual size.",
            ) from error
        finally:
            alarm.cancel()

    def _running(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self.end()
            self._process = subprocess.Popen(
                [sys.executable, "-m", "skinpin.imaging.child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
            )
        return self._process

    def end(self) -> None:
        """End it."""
        child, self._process = self._process, None
        if child is None:
            return
        child.kill()
        child.wait()
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                # Bytes may still wait for a child that is gone.
                with contextlib.suppress(OSError):
                    pipe.close()


def _exchange(
    child: subprocess.Popen[bytes], content: bytes, asked: dict[str, Any]
) -> tuple[dict[str, Any], list[bytes]]:
    assert child.stdin is not None
    assert child.stdout is not None
    message = {"size_bytes": len(content), **asked}
    child.stdin.write(json.dumps(message).encode() + b"\n" + content)
    child.stdin.flush()
    line = child.stdout.readline()
    head = json.loads(line)
    pictures = [child.stdout.read(size) for size in head["sizes_bytes"]]
    if [len(picture) for picture in pictures] != head["sizes_bytes"]:
        raise ValueError("The decoder ended in the middle of its answer.")
    return head, pictures
