"""Authors' photographs: turned upright, made no larger than needed, all metadata dropped."""

from __future__ import annotations

from io import BytesIO

from PIL import Image, ImageFile, ImageOps

from notchbook.problems import Place, fault

LONGEST = 1600
"""Pixels along the longer side of a published picture."""

MOST_PIXELS = 80_000_000
"""Pixels a picture may have before it is made smaller."""

FORMATS = ("PNG", "JPEG", "WEBP")


def picture_name(path: str) -> str:
    """What a picture is published as. PNGs stay PNGs, all else becomes JPEG."""
    return path if path.lower().endswith((".png", ".jpg", ".jpeg")) else f"{path}.jpg"


def picture(data: bytes, path: str, place: Place) -> bytes:
    """A photograph re-encoded for publishing; ``place`` is where it is asked for.

    Raises ContentError for what is no picture, is broken or has too many pixels.
    """
    # WeasyPrint tells Pillow to make do with half a picture; an author wants to know.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with Image.open(BytesIO(data), formats=FORMATS) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                what = f"The picture {path} has {opened.width} × {opened.height} pixels."
                raise fault(place, what, "Save it with fewer than 80 million.")
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((LONGEST, LONGEST), Image.Resampling.LANCZOS)
            return _encoded(upright, picture_name(path))
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        what = f"{path} can't be read as a picture."
        remedy = "Save it as a PNG, JPEG or WebP file."
        raise fault(place, what, remedy) from None


def _encoded(image: Image.Image, name: str) -> bytes:
    made = BytesIO()
    if name.lower().endswith(".png"):
        mode = "RGBA" if image.has_transparency_data else "RGB"
        _bare(image, mode).save(made, "PNG", optimize=True)
    else:
        _bare(image, "RGB").save(made, "JPEG", quality=85, optimize=True, progressive=True)
    return made.getvalue()


def _bare(image: Image.Image, mode: str) -> Image.Image:
    """The pixels alone, on white where JPEG knows no transparency."""
    if mode == "RGB" and image.has_transparency_data:
        on_white = Image.new("RGBA", image.size, "white")
        on_white.alpha_composite(image.convert("RGBA"))
        image = on_white
    bare = Image.new(mode, image.size)
    bare.paste(image.convert(mode))
    return bare
