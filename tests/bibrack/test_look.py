"""The look: contrast of every pair of colours, one place for colours, and templates that a strict content policy allows.

Contrast is computed from the definitions of relative luminance and contrast ratio in WCAG 2.2
(https://www.w3.org/TR/WCAG22/#dfn-relative-luminance, #dfn-contrast-ratio). Least values: 4.5:1 for text (1.4.3),
3:1 for what must be seen to understand or use a page (1.4.11), 7:1 for text in the scheme for low sun (1.4.6), and for the
clocks at the pitch in every scheme.
"""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django import forms
from django.template import engines
from django.template.loader import render_to_string

from drills.drawing.bibs import BIBS
from drills.drawing.svg import render
from sessions.pictures.section import plan_and_section
from sessions.pictures.week import DayEntry, WeekDay, week_picture
from sessions.planning.plan import PlannedPart, SessionPlan
from tests.drills.drawing.scenes import four_a_side, three_steps

ROOT = Path(__file__).resolve().parents[2]
CSS = ROOT / "bibrack" / "static" / "bibrack" / "css"
TEMPLATES = ROOT / "templates"
OURS = [
    path
    for folder in (".", "parts", "styleguide", "account", "mfa", "allauth")
    for path in TEMPLATES.joinpath(folder).glob("*.html" if folder == "." else "**/*.html")
]
LAYERS = ("tokens", "base", "frame", "parts", "forms", "tables", "drawing", "pitch", "print")
GROUNDS = ("paper", "sheet", "shade")
TEXT = [
    *[(word, ground) for word in ("ink", "ink-2", "next", "warn") for ground in GROUNDS],
    *[(word, "warn-wash") for word in ("ink", "ink-2", "warn")],
    *[(word, "next-wash") for word in ("ink", "next")],
    *[(word, ground) for word in ("ink", "ink-2") for ground in ("zone", "play", "rest")],
    ("ink", "match"),
    ("on-next", "next"),
    ("on-warn", "warn"),
    ("paper", "ink"),
]
# The clock at the pitch: in a round, in a rest, over; the half hour after thunder. In the pocket it is white on black.
CLOCKS = (("ink", "paper"), ("ink-2", "paper"), ("warn", "paper"), ("ink", "sheet"))
GRAPHICS = [
    *[(mark, ground) for mark in ("edge", "ink", "next", "warn") for ground in GROUNDS],
    *[(mark, ground) for mark in ("cone", "ink") for ground in ("sheet", "zone")],
    ("ink", "play"),
    ("ink", "rest"),
]


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def colours(selector: str) -> dict[str, str]:
    """The colours that the first block with this selector sets."""
    text = (CSS / "tokens.css").read_text(encoding="utf-8")
    block = text[text.index(selector + " {") :].split("}")[0]
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block))


LIGHT = colours(":root")
SCHEMES = {
    "light": LIGHT,
    "dark": LIGHT | colours('[data-scheme="dark"]'),
    "sun": LIGHT | colours('[data-scheme="sun"]'),
}


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#767676", "#ffffff", 4.542), ("#ff0000", "#008000", 1.285), ("#000000", "#ffffff", 21.0)],
)
def test_contrast_is_computed_as_wcag_defines_it(one: str, other: str, ratio: float) -> None:
    assert round(contrast(one, other), 3) == ratio


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("word", "ground"), TEXT)
def test_every_word_can_be_read(scheme: str, word: str, ground: str) -> None:
    least = 7.0 if scheme == "sun" else 4.5
    assert contrast(SCHEMES[scheme][word], SCHEMES[scheme][ground]) >= least


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("word", "ground"), CLOCKS)
def test_the_clocks_at_the_pitch_can_be_read_in_any_light(scheme: str, word: str, ground: str) -> None:
    assert contrast(SCHEMES[scheme][word], SCHEMES[scheme][ground]) >= 7.0


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("mark", "ground"), GRAPHICS)
def test_every_mark_can_be_seen(scheme: str, mark: str, ground: str) -> None:
    assert contrast(SCHEMES[scheme][mark], SCHEMES[scheme][ground]) >= 3.0


@pytest.mark.parametrize("word", BIBS)
def test_bibs_have_the_paints_of_the_drawings_and_can_be_read(word: str) -> None:
    name = word.replace(" ", "-")
    assert (LIGHT[f"bib-{name}"], LIGHT[f"on-bib-{name}"]) == (BIBS[word].paint, BIBS[word].ink)
    assert contrast(BIBS[word].paint, BIBS[word].ink) >= 4.5


def test_dark_is_the_same_by_choice_and_by_device() -> None:
    assert colours('[data-scheme="dark"]') == colours('[data-scheme="auto"]')


def test_each_scheme_sets_every_colour_of_the_light_one() -> None:
    shared = {name for name in LIGHT if "bib-" not in name}
    assert set(colours('[data-scheme="dark"]')) == shared
    assert set(colours('[data-scheme="sun"]')) == shared


@pytest.mark.parametrize("name", [layer for layer in LAYERS if layer not in ("tokens", "print")])
def test_colours_stand_in_one_file(name: str) -> None:
    text = re.sub(r"/\*.*?\*/", "", (CSS / f"{name}.css").read_text(encoding="utf-8"), flags=re.DOTALL)
    found = set(re.findall(r"#[0-9a-f]{3,8}\b|\brgba?\(|\bhsla?\(", text))
    # The pocket screen is black whatever the scheme, and a code to scan needs white paper.
    allowed = {"pitch": {"#000000", "#ffffff"}, "parts": {"#ffffff"}}
    assert found <= allowed.get(name, set())


def test_files_of_styles_are_the_layers_in_their_order() -> None:
    first = (CSS / "tokens.css").read_text(encoding="utf-8")
    assert f"@layer {', '.join(LAYERS)};" in first
    linked = re.findall(r"css/(\w+)\.css", (TEMPLATES / "base.html").read_text(encoding="utf-8"))
    assert tuple(linked) == LAYERS
    assert sorted(path.stem for path in CSS.glob("*.css")) == sorted(LAYERS)
    for layer in LAYERS:
        assert f"@layer {layer} {{" in (CSS / f"{layer}.css").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", sorted(CSS.glob("*.css")), ids=lambda path: path.name)
def test_files_of_styles_use_only_names_that_exist(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    every = "".join(each.read_text(encoding="utf-8") for each in CSS.glob("*.css"))
    defined = set(re.findall(r"(--[\w-]+):", every))
    assert set(re.findall(r"var\((--[\w-]+)\)", text)) <= defined
    assert text.count("{") == text.count("}")
    assert len(text.splitlines()) <= 350


class Page(HTMLParser):
    """What a check of a page needs: its tags in order, with their attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))


def test_a_style_or_handler_in_a_template_would_be_found() -> None:
    assert _forbidden("<p style='color: red'>") == ["style"]
    assert _forbidden('<a onclick="go()">') == ["onclick"]
    assert _forbidden("<script>go()</script>") == ["script"]
    assert _forbidden('<script type="module" src="a.js"></script><p class="style">') == []


@pytest.mark.parametrize(
    "path", sorted(TEMPLATES.glob("**/*.html")), ids=lambda path: str(path.relative_to(TEMPLATES))
)
def test_templates_keep_to_a_strict_content_policy_and_compile(path: Path) -> None:
    name = path.relative_to(TEMPLATES).as_posix()
    assert _forbidden(path.read_text(encoding="utf-8")) == []
    assert engines["django"].engine.get_template(name).name == name


def _forbidden(text: str) -> list[str]:
    found = re.findall(r"<[^>]*?\s(style|on[a-z]+|hx-on[\w:-]*)=", text)
    scripts = [tag for tag in re.findall(r"<script\b[^>]*>", text) if "src=" not in tag]
    return found + ["script" for tag in scripts if not re.search(r"application/(ld\+)?json", tag)]


def test_classes_of_the_shared_templates_have_a_rule() -> None:
    styles = "".join(path.read_text(encoding="utf-8") for path in CSS.glob("*.css"))
    known = set(re.findall(r"\.([a-z][\w-]*)", styles))
    used: set[str] = set()
    for path in OURS:
        bare = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", " ", path.read_text(encoding="utf-8"))
        for names in re.findall(r'(?<![-\w])class="([^"]*)"', bare):
            used |= set(names.split())
    drawn = {"body", "player", "bib-red", "bib-blue", "bib-yellow"}  # coloured as they are drawn
    assert used - known - drawn == set()


def test_the_page_of_components_is_whole_and_labelled() -> None:
    page = Page(render_to_string("styleguide.html", {"request": None}))
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert sorted(ids) == sorted(set(ids))
    labelled = {attrs["for"] for tag, attrs in page.tags if tag == "label" and "for" in attrs}
    fields = [
        attrs
        for tag, attrs in page.tags
        if tag in ("select", "textarea")
        or (tag == "input" and attrs.get("type") not in ("hidden", "radio", "checkbox"))
    ]
    assert len(fields) >= 10
    assert [attrs for attrs in fields if attrs.get("id") not in labelled] == []
    assert [tag for tag, _ in page.tags if tag in ("h1", "main")] == ["main", "h1"]


@pytest.mark.parametrize("name", ["400", "403", "403_csrf", "404", "429", "500", "503"])
def test_pages_for_errors_need_nothing_that_may_have_failed(name: str) -> None:
    """Rendered without a request: no query, no session, and still a heading and a way out."""
    page = Page(render_to_string(f"{name}.html", {"detail": "Written by the view."}))
    assert [tag for tag, _ in page.tags].count("h1") == 1
    ways = [
        attrs["href"] for tag, attrs in page.tags if tag == "a" and "go" in attrs.get("class", "").split()
    ]
    assert ways == ["/"]


class GridForm(forms.Form):
    length_m = forms.IntegerField(min_value=5, help_text="Metres.")
    note = forms.CharField(required=False)
    place = forms.ChoiceField(choices=[("in", "inside"), ("out", "outside")], widget=forms.RadioSelect)


def test_a_field_names_its_help_and_its_error_and_keeps_what_was_typed() -> None:
    form = GridForm({"length_m": "4", "note": "kept"})
    text = render_to_string("parts/form.html", {"form": form})
    page = Page(text)
    fields = {attrs["name"]: attrs for tag, attrs in page.tags if tag == "input" and attrs["type"] != "radio"}
    ids = {attrs["id"] for _, attrs in page.tags if "id" in attrs}
    assert set(fields["length_m"]["aria-describedby"].split()) == {
        "id_length_m_helptext",
        "id_length_m_error",
    }
    assert set(fields["length_m"]["aria-describedby"].split()) <= ids
    assert (fields["length_m"]["value"], fields["note"]["value"]) == ("4", "kept")
    assert [attrs["href"] for tag, attrs in page.tags if tag == "a"] == ["#id_length_m", "#id_place"]
    assert {attrs["href"][1:] for tag, attrs in page.tags if tag == "a"} <= ids
    assert text.count("(if you like)") == 1


def drawings() -> dict[str, str]:
    parts = (
        PlannedPart(key="a", minutes=12, cr10=3),
        PlannedPart(key="b", minutes=30, cr10=7, bouts=3, rest_s=60, changeover_s=120),
    )
    days = [
        WeekDay("Tue 3 Mar", (DayEntry("training", 280, 75),)),
        WeekDay("Thu 5 Mar", (DayEntry("training", 250, 75, True),)),
        WeekDay("Sat 7 Mar", (DayEntry("match", 360, 60),)),
    ]
    return {
        "plan": render(four_a_side(steps=three_steps())),
        "section": plan_and_section(SessionPlan(minutes=60, parts=parts), budget_au=150),
        "week": week_picture(days, budget_au=600),
    }


@pytest.mark.parametrize("name", ["plan", "section", "week"])
def test_whatever_a_drawing_colours_is_coloured_again_for_the_scheme(name: str) -> None:
    """Each colour of a drawing sits on an element with a class that drawing.css knows; bibs keep their paint."""
    known = set(re.findall(r"\.([a-z][\w-]*)", (CSS / "drawing.css").read_text(encoding="utf-8")))
    kept = {"body", "label", "hatch", "zone-area"}
    coloured = [
        (tag, attrs)
        for tag, attrs in Page(re.sub(r"<defs>.*?</defs>", "", drawings()[name])).tags
        if any(attrs.get(paint, "").startswith("#") for paint in ("fill", "stroke"))
    ]
    assert len(coloured) > 5
    strangers = [
        (tag, attrs.get("class", ""))
        for tag, attrs in coloured
        if not set(attrs.get("class", "").split()) & (known | kept) and "cx" not in attrs
    ]
    assert strangers == []
