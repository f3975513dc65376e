"""Pictures: copied in, named by their content, without the camera's data about place and time."""

import hashlib
from collections.abc import Collection
from pathlib import Path

from tiles.errors import InvalidValue

FORMATS = {"JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp"}
_SEEN = ("icc_profile", "transparency")
"""What a file says beside the picture that changes how it looks; all else stays behind."""


def take_in(file: Path, folder: Path, missing: Collection[str] = ()) -> str:
    """Copy a picture into the photo folder.

    The copy is turned the right way up and carries no camera data, so no place where a class
    works travels with a picture.

    Parameters
    ----------
    file : Path
        A JPEG, PNG or WebP picture.
    folder : Path
        From :func:`tiles.settings.photo_folder`; made if it is not there.
    missing : collection of str
        Names of copies that are on record and not there: a file so named is put back.

    Returns
    -------
    str
        The name of the copy: the start of the SHA-256 of the picture given, or one of ``missing``.

    Raises
    ------
    InvalidValue
        No such file, or not such a picture.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        content = file.read_bytes()
        with Image.open(file) as picture:
            if picture.format not in FORMATS:
                raise UnidentifiedImageError
            kept_as = picture.format
            upright = ImageOps.exif_transpose(picture)
            upright.load()
    except Image.DecompressionBombError as error:
        raise InvalidValue(f"{file} is too large a picture.", "a smaller copy of it.") from error
    except UnidentifiedImageError as error:
        raise InvalidValue(f"{file} is not a picture.", "a JPEG, PNG or WebP file.") from error
    except OSError as error:
        said = error.strerror or "it is damaged"
        raise InvalidValue(f"{file} cannot be read: {said}.", "another file.") from error
    name = hashlib.sha256(content).hexdigest()[:20] + FORMATS[kept_as]
    name = file.name if file.name in missing else name
    is_new = not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if not (folder / name).exists():
            _save(upright, folder / name, kept_as)
    except OSError as error:
        if is_new and folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
        said = error.strerror or "the picture cannot be written"
        raise InvalidValue(
            f"{folder} cannot be used: {said}.", "another folder, in TILES_PHOTOS."
        ) from error
    return name


def _save(picture, file: Path, kept_as: str) -> None:
    # Comments and the notes of other programs may tell a place as well.
    seen = {key: picture.info[key] for key in _SEEN if key in picture.info}
    picture.info = {}
    part = file.with_name(f".{file.name}.part")  # a picture that is cut off has no name
    try:
        picture.save(part, format=kept_as, **seen)
        part.replace(file)
    finally:
        part.unlink(missing_ok=True)
