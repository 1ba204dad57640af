"""What docs/ says of the engine and the document is what they are now."""

import json

import jsonschema
import pytest

from tests.bibrack.demo.documents import FOLDER
from tests.drills.game.published_files import DOCS, FILES, schema
from tests.drills.samples import SMALL


@pytest.mark.parametrize("name", FILES)
def test_the_file_is_what_is_computed_now(name: str) -> None:
    made = FILES[name]()
    assert (DOCS / name).read_text(encoding="utf-8") == made, "python -m tests.drills.game.published_files"


def test_every_demo_drill_validates_against_the_published_schema() -> None:
    # By an independent validator (jsonschema, draft 2020-12).
    published = json.loads(schema())
    jsonschema.Draft202012Validator.check_schema(published)
    validator = jsonschema.Draft202012Validator(published)
    drills = sorted(FOLDER.glob("*.json"))
    wrong = {
        drill.name: [each.message for each in validator.iter_errors(json.loads(drill.read_bytes()))]
        for drill in drills
    }
    assert len(drills) >= 40
    assert {name: messages for name, messages in wrong.items() if messages} == {}
    assert [list(each.path) for each in validator.iter_errors({**SMALL, "grids": []})] == [["grids"]]
