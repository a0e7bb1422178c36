"""Photographs are turned upright, made fit for print, and refused with a sentence when they can't be."""

import io

from PIL import Image

from compiler.base.report import Spot
from compiler.stages.photos import DOTS_PER_INCH, WIDEST_IN, photo

AT = Spot("notes.md", line=3, column=1)


def picture(width: int, height: int, orientation: int = 1) -> bytes:
    """A JPEG whose left half is black, with an EXIF orientation."""
    image = Image.new("RGB", (width, height), "white")
    image.paste("black", (0, 0, width // 2, height))
    exif = Image.Exif()
    exif[0x0112] = orientation
    written = io.BytesIO()
    image.save(written, "JPEG", exif=exif)
    return written.getvalue()


def test_a_photo_taken_sideways_stands_upright() -> None:
    """Orientation 6 means that the camera was turned a quarter clockwise (Exif 2.3, tag 0x0112): left becomes top."""
    made = photo(picture(800, 600, orientation=6), "a case", "", AT).value
    assert made is not None
    assert (600, 800) == (made.width, made.height)
    with Image.open(io.BytesIO(made.image)) as upright:
        assert upright.getpixel((300, 100)) < (60, 60, 60)
        assert upright.getpixel((300, 700)) > (200, 200, 200)


def test_a_large_photo_comes_down_to_print_resolution() -> None:
    """7 in at 300 dots an inch is 2100 pixels."""
    made = photo(picture(4200, 3000), "a case", "", AT).value
    assert made is not None
    assert (WIDEST_IN * DOTS_PER_INCH, 1500) == (made.width, made.height)


def test_the_same_photo_gives_the_same_bytes() -> None:
    """Nothing of the clock gets in."""
    content = picture(900, 700)
    assert photo(content, "a case", "", AT) == photo(content, "a case", "", AT)


def test_the_cameras_own_data_stays_out() -> None:
    """No EXIF block is left in the printed picture."""
    made = photo(picture(800, 600, orientation=3), "a case", "", AT).value
    assert made is not None
    assert b"Exif" not in made.image


def test_a_corrupt_photo_is_one_sentence() -> None:
    """Half a file is reported at the notes' own line."""
    (fault,) = photo(picture(800, 600)[:2000], "a case", "", AT).report.errors
    assert ("photo-unreadable", AT) == (fault.code, fault.at)


def test_a_photo_needs_a_description() -> None:
    """Readers who can't see the picture are told what it shows."""
    (fault,) = photo(picture(800, 600), " ", "", AT).report.errors
    assert "photo-without-words" == fault.code


def test_a_huge_photo_is_refused_before_it_is_opened() -> None:
    """The size stands in the header; 200 megapixels of one colour are a small file."""
    written = io.BytesIO()
    Image.new("1", (20_000, 10_000)).save(written, "PNG")
    (fault,) = photo(written.getvalue(), "a case", "", AT).report.errors
    assert "photo-too-large" == fault.code
