"""Words that are looked for: as they were typed, and, where too few drills say them, what is spelt nearly so."""

from django.contrib.postgres.fields import ArrayField
from django.contrib.postgres.search import SearchQuery
from django.db.models import Case, Exists, F, Func, IntegerField, TextField, Value, When
from django.db.models.expressions import RawSQL

from drills.bridge import words_in
from drills.choices import DrillState
from drills.models import DrillQuerySet

MOST_WORDS = 12
ENOUGH = (
    3  # with fewer drills that say the words as they were typed, those that nearly do are shown after them
)


class AsTyped(SearchQuery):
    """All of these words, each also as the beginning of a longer one."""

    def __init__(self, words: list[str]) -> None:
        super().__init__(_prefixes(words), config="english", search_type="raw")


class SpeltAlike(SearchQuery):
    """The same, and for each word those a slip of the pen away; asked of the database once per query."""

    template = "(SELECT near_words(%(expressions)s))"

    def __init__(self, words: list[str]) -> None:
        super().__init__(Value(words, output_field=ArrayField(TextField())))


class Given(SearchQuery):
    """Words that the statement around has as a table of one row."""

    def __init__(self, name: str) -> None:
        super().__init__(Value(""))
        self.set_source_expressions([])
        self.template = f"(SELECT words FROM {name})"


class _Choice(SearchQuery):
    """One of several text searches, whichever the database comes to."""

    template = "%(expressions)s"

    def __init__(self, choice: Case) -> None:
        super().__init__(Value(""))
        self.set_source_expressions([choice])


TYPED, ALIKE = Given("typed"), Given("alike")
# What the club has made its standard comes before what is equally near.
_STANDARD_FIRST = Case(When(state=DrillState.CLUB_STANDARD, then=Value("0")), default=Value("1"))
_STANDARD_THEN_TITLE = Func(
    _STANDARD_FIRST,
    F("title_sort"),
    template="(%(expressions)s)",
    arg_joiner=" || ",
    output_field=TextField(),
)


def words_for(q: str) -> list[str]:
    """The words of what was typed, as many as are looked for."""
    return words_in(q)[:MOST_WORDS]


def given(words: list[str]) -> dict[str, RawSQL]:
    """The tables that stretches of words name."""
    return {
        "typed": RawSQL("SELECT to_tsquery('english', %s) AS words", [_prefixes(words)]),
        "alike": RawSQL("SELECT near_words(%s) AS words", [words]),
    }


def with_words(drills: DrillQuerySet, words: list[str]) -> DrillQuerySet:
    """Drills that say all of these, in order: in the title, elsewhere, then those that nearly do where they are too few."""
    if not words:
        return drills.order_by("title_sort", "id")
    typed, alike = AsTyped(words), SpeltAlike(words)
    enough = Exists(drills.filter(words=typed).order_by()[ENOUGH - 1 : ENOUGH])
    query = _Choice(Case(When(enough, then=typed), default=alike))
    nearness = Case(
        When(title_words=typed, then=Value(0)),
        When(words=typed, then=Value(1)),
        When(title_words=alike, then=Value(2)),
        default=Value(3),
        output_field=IntegerField(),
    )
    return drills.filter(words=query).order_by(nearness, _STANDARD_FIRST, "title_sort", "id")


def stretches(drills: DrillQuerySet, words: list[str]) -> list[DrillQuerySet]:
    """The same list in stretches, each in its order: what is said in titles is found alone, and often is enough.

    With words there are four; the last two are wanted only where the first two have fewer than `ENOUGH` between them.
    """
    if not words:
        return [drills.annotate(sort_key=F("title_sort")).order_by("sort_key", "id")]
    drills = drills.annotate(sort_key=_STANDARD_THEN_TITLE).order_by("sort_key", "id")
    others = drills.exclude(words=TYPED)
    return [
        drills.filter(title_words=TYPED),
        drills.filter(words=TYPED).exclude(title_words=TYPED),
        others.filter(title_words=ALIKE),
        others.filter(words=ALIKE).exclude(title_words=ALIKE),
    ]


def _prefixes(words: list[str]) -> str:
    return " & ".join(f"{word}:*" for word in words)
