import math
from xml.etree.ElementTree import fromstring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.drawing.bibs import BIBS, HATCHES, bib_of
from drills.drawing.paper import (
    INK,
    PAPER,
    SOFT_INK,
    Markup,
    dimension,
    el,
    fmt,
    picture,
    squared,
    traced,
    words,
    write,
)


@pytest.mark.parametrize(
    ("number", "text"),
    [(3.0, "3"), (2.50, "2.5"), (-0.04, "0"), (0.05, "0.1"), (100, "100"), (-7.25, "-7.2"), (1e-9, "0")],
)
def test_numbers_are_as_short_as_they_can_be(number, text):
    assert fmt(number) == text


@given(st.floats(-1e6, 1e6))
def test_a_written_number_is_near_the_number(number):
    assert abs(float(fmt(number)) - number) <= 0.05 + 1e-6


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_what_is_no_number_is_refused(number):
    with pytest.raises(ValueError, match="number:"):
        fmt(number)


def test_text_is_escaped():
    made = write(el("text", '<b> & "q" />', cls="a", data_key='"'))
    assert made == '<text class="a" data-key="&quot;">&lt;b&gt; &amp; "q" /&gt;</text>'
    assert fromstring(made).text == '<b> & "q" />'


def test_characters_that_xml_cannot_hold_are_left_out():
    assert (
        write(el("text", "a\x00b\x1fc\ud800d\uffffe\tf", data_key="\x08g"))
        == '<text data-key="g">abcde\tf</text>'
    )


def test_attributes_keep_their_order_and_leave_out_what_is_none():
    assert write(el("rect", x=1, stroke_width=0.25, fill=None)) == '<rect x="1" stroke-width="0.25"/>'


def test_a_picture_is_named_for_those_who_cannot_see_it():
    root = fromstring(
        write(picture(10, 5, words(1, 1, "x"), title="Name", desc="What it shows", prefix="p-"))
    )
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == "p-title p-desc"
    assert [(each.tag.split("}")[1], each.get("id"), each.text) for each in root[:2]] == [
        ("title", "p-title", "Name"),
        ("desc", "p-desc", "What it shows"),
    ]


@given(st.lists(st.floats(-1e6, 1e6), min_size=4, max_size=4))
def test_a_traced_path_has_the_numbers_as_they_are_written_one_by_one(numbers):
    one, two, three, four = (fmt(each) for each in numbers)
    assert traced("M%.1f %.1fL%.1f %.1fZ", *numbers) == f"M{one} {two}L{three} {four}Z"


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_a_path_through_no_number_is_refused(number):
    with pytest.raises(ValueError, match="number:"):
        traced("M%.1f %.1f", 0, number)


def test_what_people_wrote_becomes_text_and_what_is_written_already_stays():
    made = el("g", "<b>", Markup("<path/>"), cls="a")
    made.append('"&"')
    made.set("data-key", '"><script>')
    assert write(made) == '<g class="a" data-key="&quot;&gt;&lt;script&gt;">&lt;b&gt;<path/>"&amp;"</g>'


def test_squares_run_through_the_origin_and_stay_in_the_box():
    assert squared(0, 0, 25, 10, (5, 5), 10) == "M5 0V10M15 0V10M25 0V10M0 5H25"


def read(made):
    return fromstring(write(made))


def test_a_dimension_line_has_heads_at_both_ends_and_a_gap_for_its_figure():
    lines, heads, figure = read(dimension((0, 0), (100, 0), "10 m", offset=20))
    # The line stands 20 units to the right of the way, which on the sheet is below.
    assert "M0 20L" in lines.get("d")
    assert lines.get("d").endswith("L100 20")
    assert heads.get("d").startswith("M0 20")
    assert "M100 20" in heads.get("d")
    assert (figure.text, figure.get("x"), figure.get("transform")) == ("10 m", "50", None)


def test_an_upright_dimension_is_read_from_the_right():
    figure = read(dimension((0, 100), (0, 0), "10 m", offset=-20))[2]
    assert figure.get("transform") == "rotate(-90 -20 50)"


def test_a_short_dimension_keeps_its_figure_and_drops_line_and_heads():
    lines, figure = read(dimension((0, 0), (16, 0), "1.2 m", offset=10))
    assert "M0 10L" not in lines.get("d")
    assert (figure.text, float(figure.get("font-size")) < 12) == ("1.2 m", True)


def luminance(colour):
    """Relative luminance of WCAG 2.2."""
    channels = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_computed_as_published():
    # WCAG 2.2; values computed from its formula.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.542, abs=0.001)
    assert contrast("#ff0000", "#008000") == pytest.approx(1.285, abs=0.001)


def test_labels_can_be_read_on_every_bib():
    assert {each.word: contrast(each.paint, each.ink) >= 4.5 for each in BIBS.values()} == dict.fromkeys(
        BIBS, True
    )


def test_ink_stands_out_from_paper():
    assert contrast(INK, PAPER) >= 7
    assert contrast(SOFT_INK, PAPER) >= 4.5


def test_every_bib_has_a_hatch_of_its_own():
    assert set(BIBS) <= set(HATCHES)
    tiles = [tile for word, tile in HATCHES.items() if word not in ("white", "none")]
    assert len(set(tiles)) == len(tiles)


def test_colour_words_are_read_as_people_write_them():
    assert bib_of(" Light  Blue").word == "light blue"
    assert bib_of("tartan").word == "none"
