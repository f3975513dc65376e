"""What a studio owns, of which ``tiles next`` may propose."""

from tiles.cli import next_stock


def test_a_glaze_of_which_only_a_name_is_known_is_not_proposed(sample, tiles):
    """A slip of the name leaves a glaze behind that nobody can fetch."""
    assert tiles("glaze", "add", "red and clear", "--role", "glaze").code == 0
    assert tiles("glaze", "add", "new clear", "--finish", "clear", "--cones", "06-04").code == 0
    owned = {each.name for each in next_stock.owned(str(sample)).glazes}
    assert "red and clear" not in owned and "new clear" in owned
    made = ("--body", "red earthenware", "--glaze", "red and clear", "--clean")
    assert tiles("log", "--mark", "N-1", *made, "--yes").code == 0
    assert "red and clear" in {each.name for each in next_stock.owned(str(sample)).glazes}
