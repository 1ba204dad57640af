"""Photos as phones and others send them, made by Pillow; and the markers of a JPEG, read by hand."""

import io
import random
import struct
import zlib
from collections.abc import Iterator
from typing import Any

from PIL import ExifTags, Image, ImageDraw

WHERE = ((52.0, 24.0, 38.88), (1.0, 30.0, 36.36))  # degrees, minutes, seconds: north, west
SECRETS = (b"Exif", b"Bibphone 9", b"Odalys", b"2031:03:03", b"ICC_PROFILE", b"http://ns.adobe.com")


def board(size: tuple[int, int] = (640, 480), mode: str = "RGB") -> Image.Image:
    """A board with a red corner top left, so that one sees which way up it is."""
    picture = Image.new("RGB", size, (250, 250, 245))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, size[0] // 4, size[1] // 4), fill=(220, 20, 20))
    draw.ellipse(
        (size[0] // 2, size[1] // 2, size[0] * 3 // 4, size[1] * 3 // 4), outline=(20, 20, 20), width=5
    )
    return picture.convert(mode)


def noise(size: tuple[int, int], seed: int = 1) -> Image.Image:
    """The picture that compresses worst."""
    return Image.frombytes("RGB", size, random.Random(seed).randbytes(size[0] * size[1] * 3))


def saved(picture: Image.Image, kind: str = "JPEG", **how: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **how)
    return out.getvalue()


def exif(orientation: int = 1) -> bytes:
    """As a phone writes it: where, when, by which phone, whose, and which way it was held."""
    found = Image.Exif()
    found[ExifTags.Base.Orientation] = orientation
    found[ExifTags.Base.Model] = "Bibphone 9"
    found[ExifTags.Base.Artist] = "Odalys"
    found[ExifTags.Base.DateTime] = "2031:03:03 18:00:00"
    found.get_ifd(ExifTags.IFD.GPSInfo).update(
        {
            ExifTags.GPS.GPSLatitudeRef: "N",
            ExifTags.GPS.GPSLatitude: WHERE[0],
            ExifTags.GPS.GPSLongitudeRef: "W",
            ExifTags.GPS.GPSLongitude: WHERE[1],
        }
    )
    return found.tobytes()


def png_of(width: int, height: int) -> bytes:
    """The head of a PNG that says it is so large, and a little of its data: https://www.w3.org/TR/png-3/ (5.3, 11.2.1)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    data = zlib.compress(bytes(1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def markers(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """Each marker segment up to the scan, as (second byte of the marker, data), by ITU-T T.81, annex B.1.1."""
    assert jpeg[:2] == b"\xff\xd8"
    at = 2
    while True:
        assert jpeg[at] == 0xFF
        kind, (length,) = jpeg[at + 1], struct.unpack(">H", jpeg[at + 2 : at + 4])
        yield kind, jpeg[at + 4 : at + 2 + length]
        if kind == 0xDA:
            return
        at += 2 + length
