"""A picture costs a process of its own, bounded, however many pixels it has."""

import io
from functools import partial

import pytest
from PIL import Image

from config.child_process import ask_apart
from inspections.pictures import reading
from inspections.pictures.reading import PictureUnreadable, written_anew

ORIENTATION, QUARTER = 0x112, 6


def picture(width: int, height: int, form: str = "JPEG", mode: str = "RGB", **given) -> io.BytesIO:
    out = io.BytesIO()
    Image.new(mode, (width, height), 9).save(out, form, **given)
    return out


def turned() -> Image.Exif:
    made = Image.Exif()
    made[ORIENTATION] = QUARTER
    return made


@pytest.mark.any_database
@pytest.mark.parametrize(
    ("sent", "said"),
    [
        (lambda: picture(9400, 9400, "PNG", "1"), "over 50 million pixels"),
        (lambda: picture(6900, 7250, "PNG", "1"), "over 50 million pixels"),
        (lambda: io.BytesIO(b""), "cannot be read"),
        (lambda: io.BytesIO(b"\xff\xd8\xff" + bytes(99)), "cannot be read"),
        (lambda: picture(20, 20, "GIF", "P"), "cannot be read"),
        (lambda: io.BytesIO(picture(90, 90).getvalue()[:400]), "cannot be read"),
    ],
)
def test_what_is_no_photograph_is_refused_in_words(sent, said) -> None:
    with pytest.raises(PictureUnreadable, match=said):
        written_anew(sent(), keep_location=False)


@pytest.mark.any_database
def test_a_phones_largest_photograph_is_taken_upright_within_bounds() -> None:
    sent = picture(8064, 6048, exif=turned())
    content, suffix = written_anew(sent, keep_location=False)
    made = Image.open(io.BytesIO(content))
    assert (suffix, made.size) == ("jpg", (3024, 4032))
    assert not made.getexif()


@pytest.mark.any_database
def test_one_that_takes_more_memory_than_it_may_is_refused(monkeypatch) -> None:
    monkeypatch.setattr(reading, "ask_apart", partial(ask_apart, memory=60_000_000))
    with pytest.raises(PictureUnreadable):
        written_anew(picture(5000, 5000), keep_location=False)


@pytest.mark.any_database
def test_one_that_takes_too_long_is_ended(monkeypatch) -> None:
    monkeypatch.setattr("config.child_process.sys.executable", "/bin/sleep")
    monkeypatch.setattr(reading, "SECONDS", 1)
    with pytest.raises(PictureUnreadable):
        written_anew(picture(50, 50), keep_location=False)
