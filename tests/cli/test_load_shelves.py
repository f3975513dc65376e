"""``tiles load``: on which shelves tiles lie, and which lie on none or apart."""


def test_trials_that_are_planned_are_said_to_be_and_told_of_where_they_lie_apart(sample, tiles):
    ran = tiles("next", "M-60", "--plan", "--yes", "--first-mark", "N-1")
    assert "Planned. When glazed: tiles load FIRING N-1..N-" in ran.err
    assert tiles("firing", "add", "W9", "--target-cone", "05").code == 0
    assert "several shelves" not in tiles("load", "W9", "N-1", "N-2", "--shelf", "top").err
    assert "Trials for M-60 lie on several shelves (bottom: N-3; top: N-1, N-2)" in (
        tiles("load", "W9", "N-3", "--shelf", "bottom").err
    )


def test_load_says_on_which_shelves_tiles_lie_as_planned_and_which_lie_on_none(sample, tiles):
    cones = ("--witness-cone", "05@top", "--witness-cone", "06@bottom")
    assert tiles("firing", "add", "F40", "--target-cone", "05", *cones).code == 0
    for mark, *shelf in (("P-1", "--shelf", "top"), ("P-2", "--shelf", "bottom"), ("P-3",)):
        assert tiles("log", "--mark", mark, "--body", "porcelain", *shelf, "--yes").code == 0
    ran = tiles("load", "F40", "P-1..P-3", "--yes")
    assert "3 tiles in F40 (bottom: P-2; top: P-1)." in ran.out
    assert "P-3: no shelf, so no cone reached is known. F40 has witness cones for" in ran.err
    assert tiles("load", "F40", "P-3", "--shelf", "top", "--yes").out == "1 tile in F40.\n"
