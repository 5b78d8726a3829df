"""Photographs: turned upright, made smaller, stripped; what is no picture is said so."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image, PngImagePlugin

from notchbook.pressing import pictures
from notchbook.pressing.pictures import picture, picture_name
from notchbook.problems import ContentError, Place

HERE = Place("recipe.md", 40, 3)


def encoded(image: Image.Image, kind: str, **options: object) -> bytes:
    made = BytesIO()
    image.save(made, kind, **options)
    return made.getvalue()


def opened(data: bytes) -> Image.Image:
    return Image.open(BytesIO(data))


def test_a_photograph_taken_sideways_is_turned_and_says_nothing_about_its_maker() -> None:
    sideways = Image.new("RGB", (300, 200), "white")
    sideways.paste("black", (0, 0, 150, 200))
    exif = Image.Exif()
    exif[0x0112] = 6  # turn a quarter clockwise to see it upright
    exif[0x010F] = "Camera of somebody"
    result = opened(picture(encoded(sideways, "JPEG", exif=exif), "side.jpg", HERE))
    assert result.size == (200, 300)
    assert result.getpixel((100, 50)) < (60, 60, 60)
    assert result.getpixel((100, 250)) > (200, 200, 200)
    assert not result.getexif()
    assert not {"exif", "comment", "icc_profile"} & set(result.info)


def test_a_png_stays_a_png_keeps_what_is_transparent_and_loses_its_notes() -> None:
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Author", "somebody")
    clear = Image.new("RGBA", (10, 10), (200, 0, 0, 0))
    result = opened(picture(encoded(clear, "PNG", pnginfo=notes), "side.png", HERE))
    assert (result.format, result.mode) == ("PNG", "RGBA")
    assert result.getpixel((5, 5))[3] == 0
    assert "Author" not in result.info


def test_a_webp_becomes_a_jpeg_on_white_paper() -> None:
    clear = Image.new("RGBA", (10, 10), (0, 0, 0, 0))
    result = opened(picture(encoded(clear, "WEBP"), "side.webp", HERE))
    assert picture_name("views/side.webp") == "views/side.webp.jpg"
    assert result.format == "JPEG"
    assert result.getpixel((5, 5)) > (250, 250, 250)


@pytest.mark.parametrize("name", ["side.png", "side.JPEG", "views/side.jpg"])
def test_names_the_web_knows_are_kept(name: str) -> None:
    assert picture_name(name) == name


def test_a_large_photograph_is_made_smaller_and_a_small_one_left_alone() -> None:
    large = encoded(Image.new("RGB", (4000, 1000)), "JPEG")
    assert opened(picture(large, "a.jpg", HERE)).size == (1600, 400)
    small = encoded(Image.new("RGB", (40, 10)), "JPEG")
    assert opened(picture(small, "a.jpg", HERE)).size == (40, 10)


def test_the_same_photograph_gives_the_same_bytes() -> None:
    data = encoded(Image.effect_noise((300, 300), 80), "PNG")
    assert picture(data, "a.png", HERE) == picture(data, "a.png", HERE)


def complaint(data: bytes, name: str = "side.jpg") -> str:
    with pytest.raises(ContentError) as caught:
        picture(data, name, HERE)
    return str(caught.value)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        encoded(Image.new("RGB", (50, 50)), "JPEG")[:300],
        encoded(Image.new("P", (50, 50)), "GIF"),
        encoded(Image.effect_noise((90, 90), 80), "PNG")[:-400],
    ],
)
def test_what_is_no_whole_picture_is_said_with_its_place_and_a_remedy(data: bytes) -> None:
    assert complaint(data) == (
        "recipe.md:40:3: side.jpg can't be read as a picture.\n"
        "    Save it as a PNG, JPEG or WebP file."
    )


def test_a_picture_that_would_fill_the_memory_is_not_opened(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(pictures, "MOST_PIXELS", 100)
    said = complaint(encoded(Image.new("1", (20, 30)), "PNG"))
    assert "The picture side.jpg has 20 × 30 pixels." in said
