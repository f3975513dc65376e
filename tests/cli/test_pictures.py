"""``tiles photo``: the pictures of a tile and what is no picture."""

import pytest

from tests.cli.records import assert_one_line_error, counts, shown


@pytest.fixture
def tile(tile_of_two_areas):
    return tile_of_two_areas


@pytest.fixture
def picture(tmp_path):
    """A picture as a telephone makes it: turned, with the place where it was taken."""
    from PIL import Image

    image = Image.new("RGB", (40, 20), "green")
    exif = image.getexif()
    exif[0x0112] = 6  # turned a quarter
    exif.get_ifd(0x8825)[1] = "N"  # GPS
    file = tmp_path / "photo.jpg"
    image.save(file, exif=exif)
    return file


def test_a_picture_is_kept_beside_the_database_without_the_cameras_data(tile, tiles, picture):
    from PIL import Image

    ran = tiles("photo", "N-1", picture, "--caption", "front")
    assert ran.code == 0, ran.err
    (photo,) = shown(tiles, "N-1")["photos"]
    assert photo["caption"] == "front"
    kept = tile.parent / "sample-photos" / photo["file"]
    with Image.open(kept) as image:
        assert image.size == (20, 40)
        assert not image.getexif()
    assert_one_line_error(tiles("photo", "N-1", picture), "already has this picture")


def test_a_picture_whose_file_is_gone_is_put_back(tile, tiles, picture, tmp_path):
    assert tiles("photo", "N-1", picture, "--caption", "front").code == 0
    before = shown(tiles, "N-1")
    (photo,) = before["photos"]
    kept = tile.parent / "sample-photos" / photo["file"]
    copy = tmp_path / photo["file"]  # as it is in the folder of another computer
    kept.rename(copy)
    for file in (picture, copy):
        kept.unlink(missing_ok=True)
        assert tiles("photo", "N-1", file).out == f"N-1: picture put back as {photo['file']}\n"
        assert kept.exists()
    assert shown(tiles, "N-1") == before


def test_what_is_no_picture_is_refused(tile, tiles, tmp_path):
    before = counts(tile)
    letter = tmp_path / "letter.jpg"
    letter.write_text("Dear reader")
    assert_one_line_error(tiles("photo", "N-1", letter), "letter.jpg is not a picture")
    assert_one_line_error(tiles("photo", "N-1", tmp_path / "no.jpg"), "no.jpg cannot be read")
    assert_one_line_error(tiles("photo", "N-99", letter), "'N-99'")
    assert counts(tile) == before
    assert not (tile.parent / "sample-photos").exists()
