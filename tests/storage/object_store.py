"""A small S3-style store on 127.0.0.1 that lets nobody in without a right signature."""

import hashlib
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import unquote

from skinpin.storage.bucket import Bucket, Place
from skinpin.storage.signing import Asked, Key, authorization

KEY = Key("marram-key", "a secret of the tests", "eu-west-2")


class Store(ThreadingHTTPServer):
    """Objects by path; `busy` answers that many questions with 503 first."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Handler)
        self.objects: dict[str, bytes] = {}
        self.busy, self.asked = 0, 0

    @property
    def endpoint(self) -> str:
        return f"http://127.0.0.1:{self.server_port}"

    def bucket(self, key: Key = KEY) -> Bucket:
        return Bucket(Place(self.endpoint, "marram", "book", key))


class Handler(BaseHTTPRequestHandler):
    """GET, HEAD and PUT of one object."""

    server: Store

    def log_message(self, format: str, *args: object) -> None:
        pass

    def _do(self) -> None:
        store, path = self.server, unquote(self.path)
        content = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        store.asked += 1
        if store.busy:
            store.busy -= 1
            return self._say(503, b"<Error><Code>SlowDown</Code></Error>")
        if not self._is_signed(path, content):
            return self._say(403, b"<Error><Code>SignatureDoesNotMatch</Code></Error>")
        if self.command == "PUT":
            store.objects[path] = content
            return self._say(200, b"")
        found = store.objects.get(path)
        if found is None:
            return self._say(404, b"<Error><Code>NoSuchKey</Code></Error>")
        return self._say(200, found)

    do_GET = do_HEAD = do_PUT = _do  # noqa: N815 (the names that the library calls)

    def _is_signed(self, path: str, content: bytes) -> bool:
        payload = hashlib.sha256(content).hexdigest()
        names = ("host", "x-amz-content-sha256", "x-amz-date")
        headers = {name: self.headers.get(name, "") for name in names}
        asked = Asked(self.command, path, {}, headers, payload)
        expected = authorization(KEY, asked, headers["x-amz-date"])
        is_whole = headers["x-amz-content-sha256"] == payload
        return is_whole and self.headers.get("Authorization") == expected

    def _say(self, status: int, content: bytes) -> None:
        self.send_response(status)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)


@contextmanager
def object_store() -> Iterator[Store]:
    """Serve an empty store."""
    store = Store()
    thread = threading.Thread(target=store.serve_forever)
    thread.start()
    try:
        yield store
    finally:
        store.shutdown()
        thread.join()
        store.server_close()
