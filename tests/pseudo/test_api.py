"""What the API says of a wrong request, in the made-up language; and that nothing is refused in English alone."""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.addresses import COACH, DIRECTOR, READER, session_tonight
from tests.pseudo.clubs import clubs
from tests.pseudo.language import spoken
from tests.pseudo.walking import client_of, left_of, told

ROOT = Path(__file__).parents[2]
NOWHERE = "3799653a-0000-4000-8000-000000000000"
# Who asks, how, where, and with what.
WRONG: tuple[tuple[str, str, str, Any], ...] = (
    ("", "get", "/api/v1/drills/", None),
    (COACH, "get", f"/api/v1/drills/{NOWHERE}/", None),
    (COACH, "get", "/api/v1/drills/?players=many&length=-3&width=wide", None),
    (COACH, "get", "/api/v1/sessions/?from=yesterday&to=2026-99-99", None),
    (COACH, "get", "/api/v1/attendance/", None),
    (COACH, "delete", "/api/v1/drills/", None),
    (READER, "post", "/api/v1/sessions/", {}),
    (COACH, "post", "/api/v1/drills/", {}),
    (COACH, "post", "/api/v1/drills/", {"title": "", "grids": [{"length_m": -1}], "schema_version": 99}),
    (COACH, "post", "/api/v1/drills/", []),
    (COACH, "post", "/api/v1/drills/import/", {"drills": "none"}),
    (COACH, "post", "/api/v1/drills/import/", {"drills": [{"title": 1}, "?"]}),
    (COACH, "post", "/api/v1/sessions/", {"day": "soon", "squad": NOWHERE, "starts": "25:00"}),
    (DIRECTOR, "post", "/api/v1/slots/", {"weekday": 9, "zones": [NOWHERE]}),
    (COACH, "post", "/api/v1/rotations/", {"teams": 3, "players": ["a"]}),
    (COACH, "post", "/api/v1/rotations/", {}),
    (COACH, "post", "/api/v1/proposals/", {}),
)


@pytest.mark.sweep
def test_every_answer_to_a_wrong_request_can_be_translated(demo_database) -> None:
    own, found = clubs(), {}
    with spoken():
        for who, how, path, body in [*WRONG, *_of_a_session()]:
            given = {} if body is None else {"data": body, "content_type": "application/json"}
            answer = getattr(client_of(who), how)(path, **given)
            refused_one_by_one = path.endswith(("/import/", "/events/"))
            assert answer.status_code >= 400 or refused_one_by_one, (how, path, answer.status_code)
            for left in left_of(answer, own):
                found.setdefault(left, f"{how} {path}")
    assert not found, told(found)


def _of_a_session() -> list[tuple[str, str, str, Any]]:
    path = "/api/v1" + session_tonight()
    return [
        (COACH, "get", path + "sheet/?size=a0", None),
        (COACH, "patch", path, {"players_expected": 0, "version": 0}),
        (COACH, "put", path + "parts/", {"parts": [{"kind": "nap", "minutes": 0}]}),
        (COACH, "post", path + "events/", {"events": [{"kind": "fireworks"}]}),
    ]


def test_nothing_is_refused_in_english_alone() -> None:
    """A text of ours in a refusal goes through the catalogue."""
    rooms = [path for app in ("club", "drills", "sessions") for path in (ROOT / app).rglob("*.py")]
    found = [f"{path.relative_to(ROOT)}:{line}" for path in rooms for line in _plain(path)]
    assert not found, "\n".join(["", *found])


# By name, which of what it is made of is the text.
REFUSALS = {"FieldProblem": 1, "Refused": 0, "Unprocessable": 0, "TooLarge": 0, "ParseError": 0, "Clash": 0}


def _plain(path: Path) -> Iterator[int]:
    for node in ast.walk(ast.parse(path.read_text())):
        name = getattr(getattr(node, "func", None), "id", "")
        if isinstance(node, ast.Call) and len(node.args) > REFUSALS.get(name, len(node.args)):
            text = node.args[REFUSALS[name]]
            if any(
                isinstance(each, ast.JoinedStr) or (isinstance(each, ast.Constant) and each.value)
                for each in ([text.body, text.orelse] if isinstance(text, ast.IfExp) else [text])
            ):
                yield node.lineno
