"""Every action is one transaction whose refusals are words: a public function that writes by names alone is an `@action`."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Function → why it is none.
NO_ACTION = {
    "ask_for_password_link": "one row, whatever becomes of the rest",
    "post": "hands a letter over, outside of transactions",
    "send_mail": "puts a letter into the queue of the action that calls it",
    "forget_mail": "part of the action that closes an account",
    "hold": "a lock of the action that calls it",
    "note_reading": "one statement",
    "make_sign_in_link": "one row",
    "hand_out_sign_in_link": "calls what makes one row",
    "end_sessions": "part of the action that closes an account",
    "replace_parts": "part of the actions that save parts",
    "heed_slots": "part of the actions that plan",
    "tell_phones": "part of the actions that set up",
    "rederive_all": "one transaction for each drill",
    "ask_to_rederive": "asks for a job",
    "rederive_outdated": "one transaction for each drill",
    "import_drills": "one transaction for each row",
    "add_sketch": "reads the photo, which takes up to seconds, before its transaction",
    "make_video": "transactions around a drawing that takes seconds",
    "let_in": "counts guesses in transactions of their own, so that a refusal undoes none",
    "work_out_proposal": "transactions around a search that takes seconds",
}


def writers() -> Iterator[tuple[str, ast.FunctionDef]]:
    """Public functions of the modules of actions that are told everything by name."""
    for path in sorted([*ROOT.glob("*/actions/*.py"), *ROOT.glob("sessions/proposals/actions/*.py")]):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
                continue
            if node.args.kwonlyargs and not node.args.args:
                yield f"{path.relative_to(ROOT).as_posix()} {node.name}", node


def is_action(node: ast.FunctionDef) -> bool:
    return any(getattr(each, "id", "") == "action" for each in node.decorator_list)


def test_whoever_writes_is_an_action() -> None:
    plain = {name for name, node in writers() if not is_action(node)}
    assert {name.split()[-1] for name in plain} == set(NO_ACTION), plain
