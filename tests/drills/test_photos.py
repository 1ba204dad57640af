"""A photo becomes a small clean JPEG, whatever came with it; what is none is refused with a reason."""

import io
import random
import zipfile
from collections.abc import Callable

import pytest
from PIL import Image, ImageCms

from drills.photos import LEAST_EDGE_PX, MB, MOST_BYTES_KEPT, NotAPhoto, Wrong, check_length, clean
from tests.drills.taken import SECRETS, WHERE, board, exif, markers, noise, png_of, saved

# Markers by ITU-T T.81, table B.1: APP0 (JFIF), tables, frame, scan. No APP1 to APP15 (E1 to EF), no comment (FE).
PLAIN = {0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDA, 0xDD}


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data), formats=["JPEG"])


def everything() -> bytes:
    """A phone's photo with all that it may carry: EXIF with a place, a colour profile, a comment, XMP, and a tail."""
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>Odalys</x:xmpmeta>"
    data = saved(board((2000, 1500)), exif=exif(), icc_profile=srgb_profile(), comment=b"Odalys", xmp=xmp)
    tail = io.BytesIO()
    with zipfile.ZipFile(tail, "w") as archive:
        archive.writestr("names.txt", "Odalys")
    return data + tail.getvalue()


def test_nothing_stays_but_the_dots() -> None:
    data = everything()
    assert [each for each in SECRETS if each not in data] == []  # it was all there
    found = clean(data)
    assert [each for each in (*SECRETS, b"PK\x03\x04") if each in found.data] == []
    assert {kind for kind, _ in markers(found.data)} <= PLAIN
    assert [data[:5] for kind, data in markers(found.data) if kind == 0xE0] == [b"JFIF\0"]
    assert found.data.endswith(b"\xff\xd9")
    picture = opened(found.data)
    assert not picture.getexif()
    assert {*picture.info} <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi"}


def test_where_it_was_taken_is_read_from_what_was_sent_and_not_from_what_is_saved() -> None:
    data = everything()
    assert opened(data).getexif().get_ifd(0x8825)[2] == WHERE[0]
    assert opened(clean(data).data).getexif().get_ifd(0x8825) == {}


# Orientation by Exif 2.32 (CIPA DC-008), 4.6.4 A: where row 0 and column 0 of what is stored belong.
HELD = {
    1: "top left",
    2: "top right",
    3: "bottom right",
    4: "bottom left",
    5: "top left",
    6: "top right",
    7: "bottom right",
    8: "bottom left",
}


@pytest.mark.parametrize(("orientation", "corner"), HELD.items())
def test_it_stands_upright(orientation: int, corner: str) -> None:
    found = clean(saved(board((640, 480)), exif=exif(orientation), quality=95))
    assert (found.width_px, found.height_px) == ((640, 480) if orientation < 5 else (480, 640))
    picture = opened(found.data)
    at = {
        "left": 20,
        "right": picture.width - 20,
        "top": 20,
        "bottom": picture.height - 20,
    }
    down, across = corner.split()
    red, green, blue = picture.getpixel((at[across], at[down]))
    assert red > 180 > 80 > max(green, blue)
    other = {"left": "right", "right": "left"}[across]
    assert min(picture.getpixel((at[other], at[down]))) > 200


@pytest.mark.parametrize(
    "odd", [b"Exif\0\0MM\0*", b"Exif\0\0no table at all", b"Exif\0\0II*\0\xff\xff\xff\xff"]
)
def test_odd_exif_is_no_reason_to_refuse_good_pixels(odd: bytes) -> None:
    found = clean(saved(board(), exif=odd))
    assert (found.width_px, found.height_px) == (640, 480)


def srgb_profile() -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def test_colours_are_those_that_the_profile_means() -> None:
    """In a profile whose red and green change places (ICC.1:2022, 9.2: tags rXYZ and gXYZ), red dots mean green ones."""
    profile = srgb_profile()
    crossed = profile.replace(b"rXYZ", b"----").replace(b"gXYZ", b"rXYZ").replace(b"----", b"gXYZ")
    red, green = (
        opened(clean(saved(board(), icc_profile=each)).data).getpixel((50, 50)) for each in (profile, crossed)
    )
    assert red == pytest.approx((220, 20, 20), abs=6)
    assert green == pytest.approx((20, 220, 20), abs=6)


def test_a_broken_profile_is_left_out() -> None:
    broken = clean(saved(board(), icc_profile=b"no profile at all" * 10))
    assert opened(broken.data).getpixel((50, 50)) == pytest.approx((220, 20, 20), abs=6)


MODES: dict[str, Callable[[], bytes]] = {
    "grey": lambda: saved(board(mode="L")),
    "four inks": lambda: saved(board(mode="CMYK")),
    "palette": lambda: saved(board().quantize(16), "PNG"),
    "see-through": lambda: saved(Image.new("RGBA", (640, 480), (0, 0, 0, 0)), "PNG"),
    "see-through palette": lambda: saved(board().quantize(16), "PNG", transparency=0),
    "16 bits": lambda: saved(Image.new("I;16", (640, 480), 65535), "PNG"),
    "one bit": lambda: saved(board(mode="1"), "PNG"),
    "WebP": lambda: saved(board(), "WEBP"),
    "progressive": lambda: saved(board(), progressive=True),
}


@pytest.mark.parametrize("name", MODES)
def test_every_way_of_colour_becomes_the_same(name: str) -> None:
    found = clean(MODES[name]())
    picture = opened(found.data)
    assert (picture.mode, picture.size) == ("RGB", (640, 480))
    assert (found.width_px, found.height_px) == picture.size
    assert min(picture.getpixel((600, 20))) > 200  # the board is white, also where one sees through it


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ((640, 480), (640, 480)),
        ((4000, 3000), (1600, 1200)),
        ((1200, 4800), (400, 1600)),
        ((1601, 1601), (1600, 1600)),
    ],
)
def test_it_is_at_most_1600_pixels_long_and_never_blown_up(
    sent: tuple[int, int], kept: tuple[int, int]
) -> None:
    found = clean(saved(board(sent)))
    assert (found.width_px, found.height_px) == kept


@pytest.mark.parametrize("size", [(1600, 1600), (1600, 1200), (640, 640), (3000, 200)])
def test_the_worst_picture_is_small_enough(size: tuple[int, int]) -> None:
    found = clean(saved(noise(size), "PNG"))
    assert 0 < len(found.data) <= MOST_BYTES_KEPT == 400_000
    assert opened(found.data).size == (found.width_px, found.height_px)


def test_a_board_keeps_all_its_pixels_at_good_quality() -> None:
    found = clean(saved(board((1600, 1200)), quality=95))
    assert (found.width_px, found.height_px) == (1600, 1200)
    assert len(found.data) < 60_000


def test_what_a_phone_puts_behind_the_photo_is_left_out() -> None:
    second = board((320, 240)).rotate(180)
    data = saved(board(), "MPO", save_all=True, append_images=[second])
    assert Image.open(io.BytesIO(data)).format == "MPO"
    found = clean(data)
    assert (found.width_px, found.height_px) == (640, 480)
    assert found.data.count(b"\xff\xd8\xff") == 1


def scans(many: int) -> bytes:
    data = saved(board(), progressive=True)
    at = data.rindex(b"\xff\xda")
    return data[:at] + data[at:-2] * many + data[-2:]


def moving(kind: str) -> bytes:
    return saved(board(), kind, save_all=True, append_images=[board().rotate(90)])


def half(kind: str) -> bytes:
    data = saved(noise((400, 300)), kind)
    return data[: len(data) // 2]


REFUSED: dict[str, tuple[Callable[[], bytes], Wrong]] = {
    "zero bytes": (lambda: b"", Wrong.EMPTY),
    "40 MB": (lambda: bytes(40 * MB), Wrong.TOO_LARGE),
    "words named .jpg": (lambda: b"Press high, win it, go. " * 40, Wrong.NO_PHOTO),
    "SVG": (lambda: b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>", Wrong.NO_PHOTO),
    "HTML before a JPEG": (lambda: b"<script>alert(1)</script>" + saved(board()), Wrong.NO_PHOTO),
    "PDF before a JPEG": (lambda: b"%PDF-1.7\n" + saved(board()), Wrong.NO_PHOTO),
    "GIF": (lambda: saved(board(), "GIF"), Wrong.NO_PHOTO),
    "TIFF": (lambda: saved(board(), "TIFF"), Wrong.NO_PHOTO),
    "BMP": (lambda: saved(board(), "BMP"), Wrong.NO_PHOTO),
    "EPS": (lambda: saved(board(), "EPS"), Wrong.NO_PHOTO),
    "HEIC": (lambda: b"\0\0\0\x24ftypheic\0\0\0\0mif1heic" + bytes(200), Wrong.PHONES_OWN_FORMAT),
    "moving PNG": (lambda: moving("PNG"), Wrong.MOVES),
    "moving WebP": (lambda: moving("WEBP"), Wrong.MOVES),
    "half a JPEG": (lambda: half("JPEG"), Wrong.DAMAGED),
    "half a PNG": (lambda: half("PNG"), Wrong.DAMAGED),
    "half a WebP": (lambda: half("WEBP"), Wrong.DAMAGED),
    "head of a JPEG": (lambda: saved(board())[:300], Wrong.DAMAGED),
    "thousands of scans": (lambda: scans(5000), Wrong.DAMAGED),
    "PNG of 10^10 pixels": (lambda: png_of(100_000, 100_000), Wrong.TOO_MANY_PIXELS),
    "PNG of 25 million pixels": (lambda: png_of(5000, 5000), Wrong.TOO_MANY_PIXELS),
    "PNG that says 24 million": (lambda: png_of(4900, 4800), Wrong.DAMAGED),
    "JPEG of 61 million pixels": (lambda: saved(Image.new("L", (8000, 7700), 255)), Wrong.TOO_MANY_PIXELS),
    "a thumbnail": (lambda: saved(board((LEAST_EDGE_PX - 1, 400))), Wrong.TOO_SMALL),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_photo_is_refused_with_its_reason(name: str) -> None:
    make, wrong = REFUSED[name]
    with pytest.raises(NotAPhoto) as refused:
        clean(make())
    assert refused.value.wrong == wrong


def test_a_length_is_refused_before_a_byte_is_read() -> None:
    with pytest.raises(NotAPhoto) as refused:
        check_length(40 * MB)
    assert refused.value.figures == {"n": 40, "most": 12}
    with pytest.raises(NotAPhoto) as refused:
        check_length(12 * MB + 1)
    assert refused.value.figures == {"n": 13, "most": 12}  # never "has 12 MB; up to 12 MB"
    check_length(12 * MB)
    check_length(1)


def test_a_large_photo_is_read_at_a_fraction() -> None:
    found = clean(saved(Image.new("RGB", (7700, 7700), (250, 250, 245)), quality=50))
    assert (found.width_px, found.height_px) == (1600, 1600)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_any_damage_is_refused_or_still_a_photo(kind: str) -> None:
    """Bytes are changed at 150 places of a small file: it is a clean JPEG or a reason, never another error."""
    chance, whole = random.Random(7), saved(board((160, 120)), kind)
    for _ in range(150):
        data = bytearray(whole)
        for _ in range(chance.randint(1, 4)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        try:
            found = clean(bytes(data))
        except NotAPhoto:
            continue
        assert {kind for kind, _ in markers(found.data)} <= PLAIN
