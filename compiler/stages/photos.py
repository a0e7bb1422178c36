"""A photograph of the plan's folder → a Photo ready for print.

In: the file's bytes and what the notes say of it. Out: a Photo turned the way the camera was held (EXIF orientation, Exif 2.3
tag 0x0112), no larger than print needs, without the camera's own data (places, names, times). Same bytes in, same out.
"""

from __future__ import annotations

import io

from compiler.base.report import Findings, Outcome, Spot
from compiler.values.document import Photo

WIDEST_IN = 7
"""No photograph is printed wider than this, in inches."""
DOTS_PER_INCH = 300
"""Beyond this a print gains nothing (common practice, no source)."""
MOST_PIXELS = 120_000_000
"""A larger picture is refused: it would need more than half a gigabyte to open."""


def photo(content: bytes, says: str, caption: str, at: Spot, name: str = "") -> Outcome[Photo]:
    """The photograph. Corrupt, huge or undescribed ones are reported at their place in the notes."""
    from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

    found = Findings()
    if not says.strip():
        found.error(
            "photo-without-words",
            "This photo has no description for readers who can't see it.",
            at,
            "Write :photo: photos/finished.jpg, the finished bookcase by a window.",
        )
        return Outcome(None, found.report())
    Image.MAX_IMAGE_PIXELS = None
    # WeasyPrint lets half a file pass once it is imported; a plan with half a photograph is not to be published.
    lenient, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    try:
        with Image.open(io.BytesIO(content)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                found.error(
                    "photo-too-large",
                    f"This photo has {opened.width * opened.height // 1_000_000} megapixels; the most is "
                    f"{MOST_PIXELS // 1_000_000}.",
                    at,
                    f"Save it {WIDEST_IN * DOTS_PER_INCH} pixels wide.",
                )
                return Outcome(None, found.report())
            opened.draft("RGB", (WIDEST_IN * DOTS_PER_INCH, WIDEST_IN * DOTS_PER_INCH))
            picture: Image.Image = ImageOps.exif_transpose(opened).convert("RGB")
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as fault:
        found.error("photo-unreadable", f"This photo can't be read: {_plain(fault)}.", at, "Open and save it again as JPEG.")
        return Outcome(None, found.report())
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = lenient
    if picture.width < 2 * DOTS_PER_INCH:
        found.warning("photo-small", f"This photo is only {picture.width} pixels wide and prints coarse.", at)
    widest = WIDEST_IN * DOTS_PER_INCH
    if picture.width > widest:
        height = max(round(picture.height * widest / picture.width), 1)
        picture = picture.resize((widest, height), Image.Resampling.LANCZOS)
    written = io.BytesIO()
    picture.save(written, "JPEG", quality=88, optimize=False, progressive=False)
    made = Photo(
        image=written.getvalue(),
        kind="jpeg",
        width=picture.width,
        height=picture.height,
        says=says.strip(),
        caption=caption.strip() or says.strip()[:1].upper() + says.strip()[1:] + ".",
        name=name,
    )
    return Outcome(made, found.report())


def _plain(fault: Exception) -> str:
    text = str(fault)
    return "it is no picture" if "cannot identify" in text or not text else text.split("\n")[0][:80]
