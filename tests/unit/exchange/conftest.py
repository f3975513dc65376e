"""What the tests of the flat form share."""

import pytest


@pytest.fixture
def write(tmp_path):
    """A file of these lines."""

    def lines(*told: str, encoding: str = "utf-8"):
        file = tmp_path / "tiles.csv"
        file.write_text("\n".join(told) + "\n", encoding=encoding)
        return file

    return lines
