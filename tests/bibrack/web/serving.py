"""A web server of a few lines' site, in a thread of this process, and sockets that talk to it."""

import contextlib
import json
import socket
import threading
from collections.abc import Callable, Iterator
from typing import Any

from bibrack.web.limits import RequestLimits
from bibrack.web.server import WebServer, listen

PATIENCE_S = 20.0
Site = Callable[[dict[str, Any], Callable[..., Any]], list[bytes]]


def echo(environ: dict[str, Any], start: Callable[..., Any]) -> list[bytes]:
    """Say back what came in."""
    body = environ["wsgi.input"].read()
    kept = {name: str(value) for name, value in environ.items() if name.startswith(("HTTP_", "REMOTE_"))}
    said = json.dumps({"length": len(body), "sum": sum(body), **kept}).encode()
    start("200 OK", [("Content-Type", "application/json"), ("Content-Length", str(len(said)))])
    return [said]


@contextlib.contextmanager
def serving(site: Site = echo, *, threads: int = 2, **more: Any) -> Iterator[WebServer]:
    """A server that runs until the block ends."""
    proxied = more.pop("behind_proxy", False)
    listening = listen("127.0.0.1", 0)
    server = WebServer(site, listening, limits=RequestLimits(**more), threads=threads, behind_proxy=proxied)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.stop()
        thread.join(PATIENCE_S)
        assert not thread.is_alive()


def connect(server: WebServer, said: bytes = b"") -> socket.socket:
    """A connection on which something has been said."""
    found = socket.create_connection(("127.0.0.1", int(server.effective_port)), PATIENCE_S)
    found.sendall(said)
    return found


def head(path: str = "/", length: int | None = None, **headers: str) -> bytes:
    """The head of a request; with a length it is a POST."""
    lines = [f"{'GET' if length is None else 'POST'} {path} HTTP/1.1", "Host: localhost"]
    lines += [] if length is None else [f"Content-Length: {length}"]
    lines += [f"{name.replace('_', '-')}: {value}" for name, value in headers.items()]
    return "\r\n".join([*lines, "", ""]).encode()


def answer(connection: socket.socket) -> tuple[int, dict[str, str], bytes]:
    """Status, headers and body of the next answer on a connection."""
    reader = connection.makefile("rb")
    status = int(reader.readline().split()[1])
    headers = {}
    while line := reader.readline().strip():
        name, _, value = line.decode().partition(": ")
        headers[name] = value
    return status, headers, reader.read(int(headers.get("Content-Length", 0)))


def asked(server: WebServer, said: bytes) -> tuple[int, dict[str, str], bytes]:
    """The answer to one request on a connection of its own."""
    with connect(server, said) as connection:
        return answer(connection)


def ends(connection: socket.socket) -> bool:
    """Wait until the other side ends a connection without having said anything."""
    with connection:
        try:
            return connection.recv(1) == b""
        except ConnectionResetError:
            return True
