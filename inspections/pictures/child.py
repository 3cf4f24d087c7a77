"""The process that opens one picture: its bytes in, a line of JSON and the picture anew out.

It is run by `config.child_process`, which bounds it first; nothing here is imported by the site.
"""

import json
import sys
import warnings
from io import BytesIO

from PIL import Image, ImageOps

KINDS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}
WHOLE = 30_000_000
"""Pixels above which a JPEG is decoded at half its width: turning it upright needs it twice."""
QUALITY = 90  # of a JPEG written anew
GPS, TAKEN_AT, EXIF = 0x8825, 0x9003, 0x8769  # where EXIF keeps the place and the time


def main(most_pixels: str, location: str) -> int:
    """Print what the picture is, then the picture."""
    warnings.simplefilter("ignore")
    Image.MAX_IMAGE_PIXELS = None  # asked here, of the head, before anything is decoded
    try:
        said, content = _anew(sys.stdin.buffer.read(), int(most_pixels), location == "keep")
    except MemoryError:
        said, content = {"pixels": 0}, b""
    except Exception as fault:  # noqa: BLE001, whatever a library says, it is no picture
        said, content = {"fault": type(fault).__name__}, b""
    sys.stdout.buffer.write(json.dumps(said).encode() + b"\n" + content)
    return 0


def _anew(content: bytes, most: int, keep_location: bool) -> tuple[dict[str, object], bytes]:
    """The picture alone, as a file of its own kind."""
    with Image.open(BytesIO(content), formats=list(KINDS)) as opened:
        if opened.width * opened.height > most:
            return {"pixels": opened.width * opened.height}, b""
        if opened.width * opened.height > WHOLE:
            opened.draft(None, (opened.width // 2, opened.height // 2))
        kind = str(opened.format)
        if keep_location:
            kept = _kept(opened)
        else:
            kept = Image.Exif()
        picture = ImageOps.exif_transpose(opened)
        out = BytesIO()
        given = {}
        if kind == "JPEG":
            given = {"quality": QUALITY}
        picture.info.clear()
        picture.save(out, kind, exif=kept.tobytes(), **given)
    return {"suffix": KINDS[kind]}, out.getvalue()


def _kept(picture: Image.Image) -> Image.Exif:
    """The place and the time of a picture, and nothing else of what it carries."""
    there, kept = picture.getexif(), Image.Exif()
    if place := there.get_ifd(GPS):
        kept.get_ifd(GPS).update(place)
    if moment := there.get_ifd(EXIF).get(TAKEN_AT):
        kept.get_ifd(EXIF)[TAKEN_AT] = moment
    return kept
