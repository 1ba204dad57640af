import pytest

from sessions.planning.carousel import Post, carousel

THREE = [Post("", adult="Ida"), Post("", adult="Bo"), Post("", adult="Uma")]


def test_everybody_comes_everywhere_once() -> None:
    found = carousel(THREE, bouts=3, changes_round=True)
    assert found.bouts == (("A", "B", "C"), ("C", "A", "B"), ("B", "C", "A"))
    assert (found.cycle, found.reasons) == (3, ())
    assert all(set(at) == {"A", "B", "C"} for at in zip(*found.bouts, strict=True))


def test_keepers_stay_while_the_others_change_past_them() -> None:
    posts = [Post("reds", adult="Ida"), Post("keepers", stays=True, adult="Bo"), Post("blues", adult="Uma")]
    found = carousel(posts, bouts=2, changes_round=True)
    assert found.bouts == (("reds", "keepers", "blues"), ("blues", "keepers", "reds"))
    assert found.cycle == 2


def test_uneven_bouts_missing_and_double_adults_are_said() -> None:
    posts = [Post("", adult="Ida"), Post("", adult="Ida"), Post("")]
    found = carousel(posts, bouts=4, changes_round=True, part="p")
    assert [each.text for each in found.reasons] == [
        "4 rounds do not take the groups round 3 stations evenly; 6 would.",
        "1 station has no adult of its own yet.",
        "Ida is down for 2 stations at the same time.",
    ]
    assert {each.part for each in found.reasons} == {"p"}


def test_nobody_moves_unless_asked_to() -> None:
    assert carousel(THREE, bouts=2, changes_round=False).bouts == (("A", "B", "C"),) * 2
    assert carousel([Post("")], bouts=1, changes_round=True).reasons == ()
    with pytest.raises(ValueError, match="bouts"):
        carousel(THREE, bouts=0, changes_round=True)
