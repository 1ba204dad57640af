"""The page "What the words mean": each anchor once, each link meets one, and its figures are those that are computed with."""

import re
from pathlib import Path

import pytest
from django.test import Client

from bibrack.meanings import CHAPTERS, FOSTER, meanings
from club.ages import YOUNGEST_BY_LOAD, under_of, years_of
from drills.game.format import Format
from drills.game.margins import RUN_OFF_LEAST_M, RUN_OFF_WISHED_M
from tests.words.shown import visible

ROOT = Path(__file__).resolve().parents[2]
LINK = re.compile(r"""{% url ["']words["'] %}#([\w-]+)""")
OF_A_FACT = re.compile(r'means="([\w-]+)"')
MEANS = {each.key: str(each.means) for each in meanings()}


def _linked() -> set[str]:
    found = {key for path in (ROOT / "templates").rglob("*.html") for key in LINK.findall(path.read_text())}
    return found | set(OF_A_FACT.findall((ROOT / "drills/pages/facts.py").read_text()))


def test_an_anchor_stands_once_and_every_link_meets_one() -> None:
    keys = [each.key for each in meanings()]
    assert len(keys) == len(set(keys))
    assert _linked() <= set(keys)
    assert {"format", "load", "effort", "variation", "open-lane", "margin", "share-in-play"} <= _linked()


@pytest.mark.django_db
def test_anybody_may_read_what_the_words_mean_and_the_foot_leads_there() -> None:
    page = Client().get("/words/")
    assert page.status_code == 200
    body = page.content.decode()
    assert [key for key in MEANS if f'id="{key}"' not in body] == []
    assert [str(chapter.title) for chapter in CHAPTERS if f"<h2>{chapter.title}</h2>" not in body] == []
    assert 'href="/words/"' in Client().get("/accounts/login/").content.decode()


def test_a_meaning_is_two_short_sentences_or_three() -> None:
    assert [
        key for key, said in MEANS.items() if len(said) > 230 or not said.endswith((".", "very hard."))
    ] == []


def test_formats_mean_what_is_said_of_them() -> None:
    assert all(each in MEANS["format"] for each in ("5v5+2", "+2in", "GK+6v6+GK", "4(+2)v4(+2)"))
    assert (Format.parse("5v5+2").neutrals_outside, Format.parse("5v5+2in").neutrals_inside) == (2, 2)
    assert [side.keeper for side in Format.parse("GK+6v6+GK").sides] == [1, 1]
    assert [(side.inside, side.players - side.inside) for side in Format.parse("4(+2)v4(+2)").sides] == [
        (4, 2),
        (4, 2),
    ]


def test_figures_are_those_in_use() -> None:
    assert f"{RUN_OFF_WISHED_M} m is wished for, {RUN_OFF_LEAST_M} m the least" in MEANS["run-off"]
    assert f"Up to U{YOUNGEST_BY_LOAD - 1} " in MEANS["load"]
    assert f"{years_of(12)} that day, {under_of(years_of(12))} in the season" in MEANS["under-n"]


def test_the_anchors_of_the_scale_are_the_published_ones() -> None:
    # Foster et al. 2001, J Strength Cond Res 15(1):109–115: 2 easy, 3 moderate, 4 somewhat hard, 5 hard, 7 very hard.
    said = MEANS["effort"]
    for anchor in ("0, rest", "2 easy", "3 moderate", "4 somewhat hard", "5 hard", "7 very hard"):
        assert anchor in said
    assert {str(each.source) for each in meanings() if each.key in ("effort", "load")} == {FOSTER}


def test_what_a_page_shows_is_read_whole() -> None:
    page = '<p>One <a href="/">link</a> within</p><script>no words</script><img alt="A plan"><button>Go</button><i data-ask="Two words?" data-names="a b|c">x</i>'
    assert set(visible(page)) == {"One link within", "A plan", "Go", "Two words?", "x"}
