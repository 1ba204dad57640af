"""A photo that somebody sends, made into a small clean JPEG: its dots are kept, nothing else that came with it.

Pure: bytes in, bytes out; neither Django nor a database. Pillow reads and writes; it is imported where a photo is read.
"""

from __future__ import annotations

import io
import threading
from dataclasses import dataclass, field
from enum import Enum
from typing import Any, TypeAlias

Picture: TypeAlias = Any  # PIL.Image.Image, whose package is imported only where a photo is read

KB, MB = 1000, 1000 * 1000
MOST_BYTES_SENT = 12 * MB  # what phones take at their finest; common practice, no source
MOST_BYTES_KEPT = 400 * KB
MOST_PIXELS = 60_000_000  # of a JPEG, which is read at a fraction of its size
MOST_PIXELS_WHOLE = 24_000_000  # of PNG and WebP, which are read whole: 4 bytes of memory for each pixel
LEAST_EDGE_PX = 100  # smaller, nobody reads a board
# A progressive JPEG comes in about 10 scans; thousands of empty ones cost minutes of work for a few bytes each.
MOST_SCANS = 64
START_OF_SCAN = (
    b"\xff\xda"  # ITU-T T.81, table B.1; inside a scan's own data a byte FF is never followed by DA
)
EDGES_PX, QUALITIES = (
    (1600, 1280, 960, 640),
    (85, 75, 65, 55, 45),
)  # tried in this order until it is small enough
PHONES_OWN = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1")  # brands of ISO/IEC 23008-12
# Exif 2.32 (CIPA DC-008), 4.6.4 A: the tag, and for each value how Pillow turns it upright (PIL.Image.Transpose).
ORIENTATION = 0x0112
UPRIGHT = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}
FORMATS = ("JPEG", "PNG", "WEBP")
ONE_AT_A_TIME = threading.Lock()  # so that the memory that photos take is that of one


class Wrong(Enum):
    """Why a photo can't be taken."""

    EMPTY = "empty"
    TOO_LARGE = "too large"
    NO_PHOTO = "no photo"
    PHONES_OWN_FORMAT = "phone's own format"
    TOO_MANY_PIXELS = "too many pixels"
    TOO_SMALL = "too small"
    MOVES = "moves"
    DAMAGED = "damaged"


class NotAPhoto(ValueError):
    """`figures` are numbers for the sentence: megabytes, megapixels or pixels."""

    def __init__(self, wrong: Wrong, **figures: int) -> None:
        super().__init__(wrong.value)
        self.wrong = wrong
        self.figures = figures


@dataclass(frozen=True)
class Photo:
    """A JPEG of at most MOST_BYTES_KEPT bytes, in sRGB, upright, its edges in pixels."""

    data: bytes = field(repr=False)
    width_px: int
    height_px: int


def check_length(length: int) -> None:
    """Refuse by the number of bytes alone, before they are read. Raises NotAPhoto."""
    if not length:
        raise NotAPhoto(Wrong.EMPTY)
    if length > MOST_BYTES_SENT:
        megabytes = max(round(length / MB), MOST_BYTES_SENT // MB + 1)
        raise NotAPhoto(Wrong.TOO_LARGE, n=megabytes, most=MOST_BYTES_SENT // MB)


def clean(data: bytes) -> Photo:
    """A JPEG, PNG or WebP as a new JPEG: turned upright, in sRGB, at most 1600 pixels long, without anything else it held.

    Raises NotAPhoto.
    """
    check_length(len(data))
    with ONE_AT_A_TIME:
        return _written(_plain(_read(_opened(data))))


def _opened(data: bytes) -> Picture:
    """What its head says, checked; no pixel is read yet."""
    from PIL import Image, UnidentifiedImageError

    if data[4:8] == b"ftyp" and data[8:12] in PHONES_OWN:
        raise NotAPhoto(Wrong.PHONES_OWN_FORMAT)
    if data.count(START_OF_SCAN) > MOST_SCANS and data.startswith(b"\xff\xd8"):
        raise NotAPhoto(Wrong.DAMAGED)
    try:
        picture = Image.open(io.BytesIO(data), formats=FORMATS)
    except UnidentifiedImageError as error:
        raise NotAPhoto(Wrong.NO_PHOTO) from error
    except Image.DecompressionBombError as error:
        raise NotAPhoto(Wrong.TOO_MANY_PIXELS, most=MOST_PIXELS // 1_000_000) from error
    except Exception as error:
        raise NotAPhoto(Wrong.DAMAGED) from error
    _check_size(picture)
    # Phones put a second, small picture behind a JPEG: that is left out, and nothing moves.
    if picture.format != "MPO" and getattr(picture, "n_frames", 1) > 1:
        raise NotAPhoto(Wrong.MOVES)
    return picture


def _check_size(picture: Picture) -> None:
    most = MOST_PIXELS if picture.format in ("JPEG", "MPO") else MOST_PIXELS_WHOLE
    if picture.width * picture.height > most:
        raise NotAPhoto(Wrong.TOO_MANY_PIXELS, most=most // 1_000_000)
    if min(picture.size) < LEAST_EDGE_PX:
        raise NotAPhoto(Wrong.TOO_SMALL, least=LEAST_EDGE_PX)


def _read(picture: Picture) -> Picture:
    """Its pixels, upright. A JPEG is read at the least fraction of its size that is still large enough."""
    try:
        picture.draft("RGB", (EDGES_PX[0], EDGES_PX[0]))
        picture.load()
    except (
        Exception
    ) as error:  # pixels that end too early, a broken table, a size that lies: whatever the reader meets
        raise NotAPhoto(Wrong.DAMAGED) from error
    turn = UPRIGHT.get(_orientation(picture))
    return picture if turn is None else picture.transpose(turn)


def _orientation(picture: Picture) -> int:
    """How the phone was held, as Exif numbers it; 1 where that is not said or can't be read."""
    try:
        found = picture.getexif().get(ORIENTATION, 1)
    except Exception:  # noqa: BLE001  odd Exif is no reason to refuse good pixels
        return 1
    return found if isinstance(found, int) else 1


def _plain(picture: Picture) -> Picture:
    """A new picture of its dots in sRGB on white, no longer than the longest edge: whatever else was known of it stays behind."""
    from PIL import Image

    coloured = _in_srgb(picture)
    coloured.thumbnail((EDGES_PX[0], EDGES_PX[0]), Image.Resampling.LANCZOS)
    plain = Image.new("RGB", coloured.size, (255, 255, 255))
    plain.paste(coloured, mask=coloured.getchannel("A") if coloured.mode == "RGBA" else None)
    return plain


def _in_srgb(picture: Picture) -> Picture:
    """RGB or RGBA. A colour profile that can't be read is taken for sRGB."""
    from PIL import ImageCms

    if picture.mode.startswith("I"):  # 16 bits a dot
        picture = picture.point(lambda level: level / 256).convert("L")
    profile = picture.info.get("icc_profile")
    if profile and picture.mode in ("RGB", "CMYK"):
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            found = ImageCms.profileToProfile(
                picture, source, ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
        except (ImageCms.PyCMSError, OSError, ValueError):
            found = None
        if found is not None:
            return found
    return picture.convert("RGBA" if picture.has_transparency_data else "RGB")


def _written(picture: Picture) -> Photo:
    """The finest JPEG that is small enough."""
    from PIL import Image

    for edge in EDGES_PX:
        picture.thumbnail((edge, edge), Image.Resampling.LANCZOS)
        for quality in QUALITIES:
            out = io.BytesIO()
            picture.save(out, "JPEG", quality=quality, optimize=True)
            if out.tell() <= MOST_BYTES_KEPT:
                return Photo(out.getvalue(), picture.width, picture.height)
    raise AssertionError("640 × 640 pixels at quality 45 fit into 400 kB")  # 7.8 bits for each pixel
