"""Reasons are said as people say them: one bout, two bouts."""

import re

import pytest

from sessions.planning.catalogue import CATALOGUE as ENTRIES
from sessions.planning.reasons import reason

CATALOGUE = {code: entry.text for code, entry in ENTRIES.items()}
OF_ONE = {code: (entry.counted, entry.one) for code, entry in ENTRIES.items() if entry.counted}


@pytest.mark.parametrize("code", OF_ONE)
def test_one_and_many_are_said_with_the_same_values(code: str) -> None:
    counted, of_one = OF_ONE[code]
    names = set(re.findall(r"{(\w+)(?::word)?}", CATALOGUE[code]))
    assert set(re.findall(r"{(\w+)(?::word)?}", of_one)) == names
    assert counted in names
    values = {name: "a word" if f"{{{name}:word}}" in CATALOGUE[code] else 3 for name in names}
    plain = {text: text.replace(":word", "") for text in (of_one, CATALOGUE[code])}
    assert reason(code, **{**values, counted: 1}).text == plain[of_one].format(**{**values, counted: 1})
    assert reason(code, **values).text == plain[CATALOGUE[code]].format(**values)
    assert of_one != CATALOGUE[code]


def test_no_sentence_leaves_the_plural_to_the_reader() -> None:
    assert [code for code, text in CATALOGUE.items() if "(s)" in text] == []


def test_a_number_that_is_not_whole_counts_as_many() -> None:
    assert reason("clear_headers", enough=1.5).counted == 2
    assert reason("clear_headers", enough=1.0).counted == 1
    assert reason("clear_alone").counted is None
