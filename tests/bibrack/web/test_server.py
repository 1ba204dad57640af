"""The web server under people who send half of something, too much, too slowly, or never read."""

import json
import threading
from collections.abc import Callable
from typing import Any

import pytest

from bibrack.web import server as module
from tests.bibrack.web.serving import answer, asked, connect, echo, ends, head, serving
from tests.harness.installation import until

HALVES = {
    "nothing": b"",
    "half a head": b"GET / HTTP/1.1\r\nHost: local",
    "no body": head("/", 1000),
    "half a body": head("/", 1000) + b"x" * 500,
    "half a chunk": b"POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nff\r\nx",
}


@pytest.fixture(autouse=True)
def looks_often(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "LOOK_EVERY_S", 0.05)


@pytest.mark.parametrize("half", HALVES.values(), ids=HALVES.keys())
def test_half_a_request_holds_no_thread(half: bytes) -> None:
    with serving(threads=1) as server:
        stalled = [connect(server, half) for _ in range(40)]
        assert [asked(server, head())[0] for _ in range(3)] == [200, 200, 200]
        for each in stalled:
            each.close()


@pytest.mark.parametrize("half", HALVES.values(), ids=HALVES.keys())
def test_half_a_request_ends_by_itself_whatever_the_wall_clock_does(
    half: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("waitress.channel.time.time", lambda: 0.0)
    with serving(head_s=0.1, silence_s=0.1) as server:
        assert ends(connect(server, half))


def test_a_body_that_comes_in_drops_ends_too() -> None:
    with serving(silence_s=0.3, body_bytes_per_s=10_000.0) as server:
        with connect(server, head("/", 1000)) as dripping:
            dripping.settimeout(0.05)
            sent = 0
            while True:
                try:
                    dripping.sendall(b"x")
                    sent += 1
                    assert dripping.recv(1) == b""
                    break
                except TimeoutError:
                    continue
                except (ConnectionResetError, BrokenPipeError):
                    break
        assert 0 < sent < 100


def test_a_connection_between_two_requests_is_kept_and_many_at_once_lose_none() -> None:
    def ask(found: list[int]) -> None:
        with connect(server) as connection:
            for _ in range(50):
                connection.sendall(head("/", 5) + b"hello")
                found.append(answer(connection)[0])

    with serving(threads=2, head_s=0.2) as server:
        found: list[int] = []
        people = [threading.Thread(target=ask, args=(found,)) for _ in range(8)]
        for each in people:
            each.start()
        for each in people:
            each.join()
        assert found == [200] * 400


def test_what_waits_on_the_disk_arrives_whole() -> None:
    body = bytes(range(256)) * 4000
    with serving(memory_per_body=1024) as server:
        status, _, said = asked(server, head("/", len(body)) + body)
        chunked = b"".join(b"%x\r\n%s\r\n" % (len(part), part) for part in (body[:7], body[7:]))
        ahead = b"POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n"
        other = asked(server, ahead + chunked + b"0\r\n\r\n")[2]
    assert (status, json.loads(said)["length"], json.loads(said)["sum"]) == (200, len(body), sum(body))
    assert json.loads(other)["sum"] == sum(body)


def test_a_body_has_the_limit_of_its_address() -> None:
    with serving(body_bytes=100, large_body_bytes=300, large_paths=frozenset({"/files/"})) as server:
        assert asked(server, head("/", 100) + b"x" * 100)[0] == 200
        assert asked(server, head("/files/", 300) + b"x" * 300)[0] == 200
        status, headers, said = asked(server, head("/", 101))
        assert (status, headers["Connection"]) == (413, "close")
        assert said == b"This is larger than what can be sent here."
        status, headers, said = asked(server, head("/api/v1/drills/", 101))
        assert (status, headers["Content-Type"]) == (413, "application/problem+json")
        assert json.loads(said)["status"] == 413
        assert asked(server, head("/files/", 301))[0] == 413
        endless = b"POST /files/ HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n"
        assert asked(server, endless + b"fff\r\n" + b"x" * 200)[0] == 413, "of unknown length is never large"


def test_nobody_is_asked_to_send_what_is_refused() -> None:
    with serving(body_bytes=100) as server:
        assert asked(server, head("/", 1000, Expect="100-continue"))[0] == 413
        with connect(server, head("/", 5, Expect="100-continue")) as invited:
            assert answer(invited)[0] == 100
            invited.sendall(b"hello")
            assert answer(invited)[0] == 200


def test_a_few_large_bodies_at_a_time() -> None:
    large = head("/files/", 200)
    limits = {"body_bytes": 100, "large_body_bytes": 300, "large_paths": frozenset({"/files/"})}
    with serving(large_at_once=2, **limits) as server:
        first, second = connect(server, large), connect(server, large)
        assert until(lambda: server.limits.places._free._value == 0)  # both have arrived
        status, headers, _ = asked(server, large)
        assert (status, headers["Retry-After"]) == (503, "60")
        first.sendall(b"x" * 200)
        assert answer(first)[0] == 200
        second.close()
        assert until(lambda: server.limits.places._free._value == 2)  # one by its answer, one by its end
        assert asked(server, large + b"x" * 200)[0] == 200
        first.close()


def test_where_there_are_too_many_the_most_silent_gives_way() -> None:
    with serving(connections=5) as server:
        stalled = [connect(server, HALVES["half a head"]) for _ in range(5)]
        assert asked(server, head())[0] == 200
        assert ends(stalled[0])
        for each in stalled:
            each.close()


def test_a_head_has_an_end() -> None:
    with serving(head_bytes=2000) as server:
        assert asked(server, head("/", X_Long="x" * 3000))[0] == 431
        assert asked(server, b"nonsense\r\n\r\n")[0] == 400


def test_who_does_not_read_an_answer_holds_no_thread_and_ends() -> None:
    def long(environ: dict[str, Any], start: Callable[..., Any]) -> list[bytes]:
        start("200 OK", [("Content-Length", str(30 * 1024**2))] if environ["PATH_INFO"] == "/long" else [])
        return [b"x" * 1024**2] * 30 if environ["PATH_INFO"] == "/long" else [b"short"]

    with serving(long, threads=1, silence_s=0.3) as server:
        slow = connect(server, head("/long"))
        assert asked(server, head("/short"))[0] == 200
        read = 0
        with slow:
            slow.settimeout(20)
            assert slow.recv(1, 2) == b"H", "an answer waits; now nobody takes it"
            assert until(lambda: not server.active_channels)
            try:
                while part := slow.recv(1024**2):
                    read += len(part)
            except ConnectionResetError:
                pass
        assert read < 30 * 1024**2


def test_an_answer_that_is_being_made_is_given_before_the_end() -> None:
    begun, may_end = threading.Event(), threading.Event()

    def slowly(environ: dict[str, Any], start: Callable[..., Any]) -> list[bytes]:
        begun.set()
        may_end.wait(20)
        return echo(environ, start)

    with serving(slowly) as server:
        half = connect(server, HALVES["half a body"])
        with connect(server, head()) as waiting:
            assert begun.wait(20)
            server.stop()
            assert ends(half)
            may_end.set()
            assert answer(waiting)[0] == 200


@pytest.mark.parametrize("proxied", [True, False])
def test_what_a_proxy_says_counts_only_where_there_is_one(proxied: bool) -> None:
    said = head("/", X_Forwarded_For="192.0.2.7", X_Forwarded_Proto="https")
    with serving(behind_proxy=proxied) as server:
        kept = json.loads(asked(server, said)[2])
    assert ("HTTP_X_FORWARDED_FOR" in kept, "HTTP_X_FORWARDED_PROTO" in kept) == (proxied, proxied)
    assert kept["REMOTE_ADDR"] == "127.0.0.1"
