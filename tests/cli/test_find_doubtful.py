"""``tiles find --doubtful``: what is doubtful on record, for whoever cleans up."""

import csv
import io
import json


def test_each_doubt_is_told_once_with_the_command_that_mends_it(sample, tiles):
    ran = tiles("find", "--doubtful", "--firing", "F08")
    assert ran.code == 0
    assert ran.out.count("witness cone 08") == 1
    assert "M-54..M-57, M-61..M-64, M-68 (2024-12-13): F08: witness cone" in ran.out
    assert "\n  If it was a slip: tiles firing change F08 --target-cone CONE\n" in ran.out
    assert ran.err == "1 doubt on 9 tiles. What is really so may stay so.\n"
    none = tiles("find", "--doubtful", "--glaze", "pond green", "--firing", "F12")
    assert none.err.startswith("Nothing is doubtful on 8 tiles. Looked for: marks, names")
    assert max(map(len, none.err.splitlines())) <= 80
    assert tiles("find", "--doubtful", "--since", "2199").err == "No such tile.\n"


def test_the_sample_has_few_doubts_and_files_hold_the_same(sample, tiles):
    rows = json.loads(tiles("find", "--doubtful", "--json").out)
    assert [row["marks"][0] for row in rows] == ["M-107", "M-51", "M-52", "M-54"]
    as_csv = csv.DictReader(io.StringIO(tiles("find", "--doubtful", "--csv").out))
    assert [row["doubt"] for row in as_csv] == [row["doubt"] for row in rows]
    ran = tiles("find", "--doubtful", "--limit", "1")
    assert ran.out.count("If it was a slip") == 1
    assert "... and 3 more" in ran.err
