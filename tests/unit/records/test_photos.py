"""The copy of a picture shows the same and tells nothing else."""

import pytest

from tiles.errors import InvalidValue
from tiles.records.photos import take_in

PLACE = "School at 52.5N"
NOTES = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF '
    'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    f'<rdf:Description exif:GPSLatitude="{PLACE}"/></rdf:RDF></x:xmpmeta>'
)


@pytest.fixture
def image():
    """A plain picture with the camera's name and place in its Exif part."""
    from PIL import Image

    image = Image.new("RGB", (40, 20), "green")
    exif = image.getexif()
    exif[0x010F] = PLACE  # maker of the camera
    exif.get_ifd(0x8825)[1] = "N"  # GPS
    image.info["exif"] = exif.tobytes()
    return image


def saved(image, file):
    """The picture with its place written wherever a file of its kind has room for words."""
    from PIL.PngImagePlugin import PngInfo

    words = {"exif": image.info["exif"], "icc_profile": b"profile"}
    if file.suffix == ".png":
        text = PngInfo()
        text.add_itxt("XML:com.adobe.xmp", NOTES)
        text.add_text("Comment", PLACE)
        image.save(file, pnginfo=text, **words)
    else:
        image.save(file, xmp=NOTES.encode(), comment=PLACE.encode(), **words)
    assert PLACE.encode() in file.read_bytes()
    return file


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".webp"])
def test_nothing_that_was_written_into_a_picture_is_kept_but_how_it_looks(tmp_path, image, suffix):
    from PIL import Image

    kept = tmp_path / "kept" / take_in(saved(image, tmp_path / f"a{suffix}"), tmp_path / "kept")
    content = kept.read_bytes()
    assert PLACE.encode() not in content
    assert b"GPS" not in content
    with Image.open(kept) as copy:
        assert (copy.size, copy.info["icc_profile"]) == ((40, 20), b"profile")
        assert not copy.getexif()
        red, green, blue = copy.convert("RGB").getpixel((20, 10))
        assert green > 120 and red < 10 and blue < 10


def test_a_picture_with_a_colour_seen_through_keeps_it(tmp_path):
    from PIL import Image

    drawn = Image.new("P", (4, 4), 0)
    drawn.putpalette([255, 0, 0, 0, 255, 0])
    drawn.save(tmp_path / "a.png", transparency=0)
    kept = take_in(tmp_path / "a.png", tmp_path / "kept")
    with Image.open(tmp_path / "kept" / kept) as copy:
        assert copy.convert("RGBA").getpixel((1, 1))[3] == 0


def test_a_picture_too_large_to_open_and_a_folder_that_is_a_file_are_told(
    tmp_path, image, monkeypatch
):
    from PIL import Image

    image.save(tmp_path / "a.png")
    with pytest.raises(InvalidValue, match=r"a\.png cannot be used"):
        take_in(tmp_path / "a.png", tmp_path / "a.png")
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 100)
    with pytest.raises(InvalidValue, match="too large a picture"):
        take_in(tmp_path / "a.png", tmp_path / "kept")
