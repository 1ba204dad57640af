"""What the web server lets through is at least what the site takes, and its environment is the same in a container."""

from django.conf import settings
from django.urls import reverse

from bibrack.management.commands.serve import LARGE
from bibrack.run import SMALLER
from bibrack.web.limits import KIB, RequestLimits
from club.api_parsers import JsonParser
from drills.api.parsers import ImportParser
from tests.docker.test_compose import ROOT


def test_the_site_itself_says_what_is_too_large_wherever_a_person_may_meet_it() -> None:
    limits = RequestLimits(large_paths=frozenset(map(reverse, LARGE)))
    assert JsonParser.most_bytes == settings.DATA_UPLOAD_MAX_MEMORY_SIZE
    assert limits.body_limit("/library/write/") == JsonParser.most_bytes + 64 * KIB
    assert limits.body_limit("/api/v1/drills/import/") > ImportParser.most_bytes
    assert limits.body_limit("/library/files/bring-in/") > ImportParser.most_bytes


def test_a_container_keeps_memory_as_one_machine_does() -> None:
    said = (ROOT / "Dockerfile").read_text(encoding="utf-8")
    assert [f"{name}={value}" for name, value in SMALLER.items() if f"{name}={value}" not in said] == []
