"""What the web server lets through is at least what the site takes, and its environment is the same in a container."""

from uuid import uuid4

from django.conf import settings
from django.urls import reverse

from bibrack.management.commands.serve import LARGE, PHOTOS
from bibrack.run import SMALLER
from bibrack.web.limits import KIB, RequestLimits
from club.api_parsers import JsonParser
from drills.api.parsers import ImportParser
from drills.photos import MB
from tests.docker.test_compose import ROOT


def test_the_site_itself_says_what_is_too_large_wherever_a_person_may_meet_it() -> None:
    limits = RequestLimits(large_paths=frozenset(map(reverse, LARGE)), large_endings=PHOTOS)
    assert JsonParser.most_bytes == settings.DATA_UPLOAD_MAX_MEMORY_SIZE
    assert limits.body_limit("/library/write/") == JsonParser.most_bytes + 64 * KIB
    assert limits.body_limit("/api/v1/drills/import/") > ImportParser.most_bytes
    assert limits.body_limit("/library/files/bring-in/") > ImportParser.most_bytes
    photos = [
        reverse(name, args=[uuid4()]) for name in ("drills:sketch-add", "api-drill-sketches")
    ]  # a photo of 40 MB is refused in words, beside its field
    assert [limits.body_limit(each) > 40 * MB for each in photos] == [True, True]
    assert limits.body_limit("/sketches") == limits.body_limit("/library/write/")


def test_a_container_keeps_memory_as_one_machine_does() -> None:
    said = (ROOT / "Dockerfile").read_text(encoding="utf-8")
    assert [f"{name}={value}" for name, value in SMALLER.items() if f"{name}={value}" not in said] == []
