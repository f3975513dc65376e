"""A bisque that was read by shelf: what its tiles are taken to have had."""


def test_a_bisque_whose_shelves_differ_gives_no_cone_and_says_so_at_once(sample, tiles):
    read = ("--witness-cone", "06@top", "--witness-cone", "06@bottom")
    bisque = ("B9", "--kind", "bisque", "--target-cone", "04")
    assert tiles("firing", "add", *bisque, *read).code == 0
    made = ("--body", "red earthenware", "--glaze", "pond green=3", "--cone-reached", "05")
    seen = ("--defect", "pinholes", "--inspected-on", "2026-03-02", "--bisque-firing", "B9")
    ran = tiles("log", "--mark", "P-1", *made, *seen)
    assert (ran.code, ran.err) == (0, ""), "all its shelves read one cone"
    assert "bisque  B9 (read cone 06, set for cone 04)\n" in tiles("show", "P-1").out
    assert "P-1" in tiles("find", "--bisque-cone", "06").out
    assert "P-1" not in tiles("find", "--bisque-cone", "04").out
    told = (
        "B9 read cone 06 to 04 by shelf, and nothing tells on which shelf P-1 stood: no bisque "
        "cone counts. To give one: tiles change P-1 --bisque-cone CONE\n"
    )
    assert tiles("firing", "change", "B9", "--witness-cone", "04@bottom").err.endswith(told)
    assert tiles("log", "--mark", "P-2", *made, *seen).err == told.replace("P-1", "P-2")
    card = tiles("show", "P-1").out.replace("\n               ", " ")
    assert "bisque  B9 (read cone 06 to 04 by shelf, shelf not known)\n" in card
    why = tiles("why", "P-1").out.replace("\n", " ")
    assert "No bisque cone counts: B9 (read cone 06 to 04 by shelf, shelf not known). " in why
    find = ("find", "--bisque-firing", "B9", "--bisque-cone")
    for cone in ("06", "04"):
        ran = tiles(*find, cone)
        assert "P-1" not in ran.out
        assert "2 more tiles perhaps: some shelves of the bisque read such a cone" in ran.err
    assert "perhaps" not in tiles(*find, "05").err
