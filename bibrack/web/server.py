"""waitress with limits: one thread takes requests in and hands answers out, the others see whole requests only.

A connection that sends half a head or half a body costs a socket and a few kilobytes, never a thread, and ends by itself.
"""

import logging
import resource
import signal
import socket
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

from waitress import wasyncore
from waitress.channel import HTTPChannel
from waitress.server import TcpWSGIServer

from bibrack.web.limits import MIB, RequestLimits
from bibrack.web.parking import Parking
from bibrack.web.request import Limited, LimitedRequest, Refusal

LOOK_EVERY_S = 1.0
GRACE_S = 5.0
FILES_WANTED = 8192  # each connection is a file, and its body may be another
ANSWER_IN_MEMORY, ANSWER_KEPT = MIB // 2, 64 * MIB  # bytes of an answer that a slow phone has not taken yet


class Connection(HTTPChannel):  # type: ignore[misc]
    """One connection, with what it may not outlive."""

    parser_class = LimitedRequest
    error_task_class = Refusal
    has_asked = False  # whether a whole request has come over it before
    began = 0.0  # when the request that is coming in began, on the monotonic clock

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        self._active_at = self.began = time.monotonic()
        super().__init__(*args, **kwargs)

    @property
    def last_activity(self) -> float:
        """When bytes last went either way. The server writes down the wall clock, which jumps: that is not taken."""
        return self._active_at

    @last_activity.setter
    def last_activity(self, _: float) -> None:
        self._active_at = time.monotonic()

    def received(self, data: bytes) -> bool:
        """Take bytes in, and note when a request begins."""
        before = self.request
        if before is None:
            self.began = time.monotonic()
        taken: bool = super().received(data)
        if self.request is not None and self.request is not before:
            self.began = time.monotonic()
        return taken

    def is_overdue(self, now: float, limits: RequestLimits) -> bool:
        """Whether it has had its time, at `now` on the monotonic clock."""
        silent = now - self._active_at
        if self.total_outbufs_len:
            return silent > limits.silence_s
        if self.requests:  # the site is at work on it
            return False
        if self.request is None:
            return silent > (limits.kept_alive_s if self.has_asked else limits.head_s)
        if not self.request.headers_finished:
            return now - self.began > limits.head_s
        return silent > limits.silence_s or now - self.began > limits.body_s(self.request.content_length)

    @property
    def is_waiting(self) -> bool:
        """Whether the site has nothing to do for it."""
        return not self.requests and not self.total_outbufs_len

    @property
    def may_park(self) -> bool:
        """Whether nothing can happen to it but that bytes arrive."""
        return self.is_waiting and not self.will_close and not self.close_when_flushed

    def del_channel(self, map: dict[int, Any] | None = None) -> None:
        """Leave the loop, wherever in it."""
        if self._fileno is not None:
            self.server.parking.forget(self._fileno)
        super().del_channel(map)

    def service(self) -> None:
        """Let the site answer; called in one of its threads."""
        self.has_asked = True
        super().service()

    def handle_close(self) -> None:
        """End it, with what has come in of a request."""
        super().handle_close()
        if self.request is not None:
            self.request.close()


class WebServer(TcpWSGIServer):  # type: ignore[misc]
    """The server of one process."""

    channel_class = Connection
    accepting: bool

    def __init__(
        self,
        application: Callable[..., Any],
        listening: socket.socket,
        *,
        limits: RequestLimits,
        threads: int,
        behind_proxy: bool = False,
    ) -> None:
        """Serve a WSGI application on a bound socket. Without a proxy in front, what one would have said is struck out."""
        self.limits = limits
        self._stop_at: float | None = None
        self._look_at = 0.0
        adj = Limited(
            limits,
            threads=threads,
            clear_untrusted_proxy_headers=not behind_proxy,
            **waitress_settings(limits),
        )
        where = (listening.family, listening.type, listening.proto, listening.getsockname())
        loop: dict[int, Any] = {}
        self.parking = Parking(loop)
        super().__init__(application, map=loop, _sock=listening, adj=adj, sockinfo=where, bind_socket=False)

    def run(self) -> None:
        """Serve until told to stop, then let what is being answered end, for a few seconds."""
        while not self._is_done():
            self.parking.sweep()
            wasyncore.loop(timeout=LOOK_EVERY_S, use_poll=True, map=self._map, count=1)
            if time.monotonic() >= self._look_at:
                self._look_at = time.monotonic() + LOOK_EVERY_S
                self.end_overdue()
        for connection in list(self.active_channels.values()):
            connection.handle_close()
        self.parking.close()
        self.task_dispatcher.shutdown(timeout=0.1)

    def stop(self) -> None:
        """Take nothing new and end soon. Safe to call from a signal's handler and from other threads."""
        if self._stop_at is None:
            self._stop_at = time.monotonic() + GRACE_S
        self.pull_trigger()

    def maintenance(self, now: float) -> None:
        """Nothing: the server would look by the wall clock, and only at connections without a request."""

    def end_overdue(self) -> None:
        """End the connections that have had their time."""
        now = time.monotonic()
        for connection in list(self.active_channels.values()):
            if connection.is_overdue(now, self.limits):
                connection.handle_close()

    def handle_accept(self) -> None:
        """Take a connection; where there are too many, the one that has been silent longest gives way."""
        super().handle_accept()
        if len(self.active_channels) > self.limits.connections:
            waiting = [each for each in self.active_channels.values() if each.is_waiting]
            if waiting:
                min(waiting, key=lambda each: each.last_activity).handle_close()

    def _is_done(self) -> bool:
        if self._stop_at is None:
            return False
        if self.accepting:
            self.accepting = False
            self.del_channel()
            self.socket.close()
        for each in list(self.active_channels.values()):
            if each.is_waiting:
                each.handle_close()
        return not self.active_channels or time.monotonic() > self._stop_at


def waitress_settings(limits: RequestLimits) -> dict[str, Any]:
    """What differs from the server's defaults. Larger answers wait on the disk, so that no thread waits for a slow phone."""
    return {
        "ident": None,  # nobody needs to know
        "max_request_header_size": limits.head_bytes,
        "inbuf_overflow": limits.memory_per_body,
        "outbuf_overflow": ANSWER_IN_MEMORY,
        "outbuf_high_watermark": ANSWER_KEPT,
        "recv_bytes": 65536,
        "log_socket_errors": False,
        "connection_limit": 10**6,  # ours is lower, and does not stop listening
    }


def listen(host: str, port: int) -> socket.socket:
    """A socket at the first address of this host. Raises OSError when it cannot be had."""
    family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
    found = socket.socket(family, kind, protocol)
    try:
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind(address)
    except OSError:
        found.close()
        raise
    return found


def raise_file_limit() -> None:
    """Let this process open enough files for its connections and their bodies, as far as it may."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = FILES_WANTED if hard == resource.RLIM_INFINITY else min(hard, FILES_WANTED)
    if soft != resource.RLIM_INFINITY and soft < most:
        resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))


def spool_in(folder: Path) -> None:
    """Keep bodies that wait in a folder of the installation: a container's own /tmp may be memory."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    tempfile.tempdir = str(folder)


def serve(server: WebServer) -> None:
    """Serve until SIGTERM or SIGINT. Call it from the main thread."""

    def stop(number: int, frame: FrameType | None) -> None:
        server.stop()

    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, stop)
    logging.getLogger("waitress").setLevel(
        logging.ERROR
    )  # its lesser lines hold addresses, and addresses hold secrets
    server.run()
