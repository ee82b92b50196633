"""Renditions of photographs, made by one warm child process that may be killed at any time."""

import contextlib
import json
import subprocess
import sys
import threading
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused

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
    """One child process, started when first needed and again after a fault."""

    def __init__(self, time_limit_s: float = TIME_LIMIT_S) -> None:
        self._time_limit_s = time_limit_s
        self._lock = threading.Lock()
        self._child: subprocess.Popen[bytes] | None = None

    def render(self, content: bytes, sizes_px: list[int]) -> Renditions:
        """Return renditions with these longest sides, or refuse a file that is no picture."""
        with self._lock:
            head, pictures = self._ask(content, {"sizes_px": sizes_px})
        if "code" in head:
            raise Refused(head["code"], head["message"], "Add a JPEG or PNG of usual size.")
        by_size = dict(zip(sizes_px, pictures, strict=True))
        return Renditions(head["width_px"], head["height_px"], by_size)

    def draw(self, content: bytes, page: int) -> Drawn:
        """Return the picture of a drawing: PNG, JPEG, SVG, or a page of a PDF; else refuse."""
        with self._lock:
            head, pictures = self._ask(content, {"page": page})
        if "code" in head:
            raise Refused(head["code"], head["message"], "Add a PNG, JPEG, SVG or PDF.")
        told = (head["media_type"], head["width_px"], head["height_px"], head["pages"])
        return Drawn(*told, pictures[0])

    def close(self) -> None:
        """End the child."""
        with self._lock:
            self._end()

    def _ask(self, content: bytes, asked: dict[str, Any]) -> tuple[dict[str, Any], list[bytes]]:
        child = self._running()
        alarm = threading.Timer(self._time_limit_s, child.kill)
        alarm.start()
        try:
            return _exchange(child, content, asked)
        except (OSError, ValueError) as error:
            self._end()
            raise Refused(
                "unreadable_picture",
                f"Decoding the picture of {len(content)} bytes took too long or too much memory.",
                "Add a JPEG or PNG of usual size.",
            ) from error
        finally:
            alarm.cancel()

    def _running(self) -> subprocess.Popen[bytes]:
        if self._child is None or self._child.poll() is not None:
            self._end()
            self._child = subprocess.Popen(
                [sys.executable, "-m", "skinpin.imaging.child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
            )
        return self._child

    def _end(self) -> None:
        child, self._child = self._child, None
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
