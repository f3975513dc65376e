"""The options of one ``tiles log``, and the same but for some."""

ISSUED = {
    "--mark": "N-41",
    "--body": "red earthenware",
    "--glaze": "pond green",
    "--coats": "3",
    "--thickness-mm": "0.9",
    "--bisque-cone": "04",
    "--firing": "F12",
    "--cone-reached": "05",
    "--defect": "crawling:severe",
    "--note": "thick at the foot",
}


def with_options(**changed):
    """The options of the example, some of them otherwise; None leaves one out."""
    given = ISSUED | {f"--{name.replace('_', '-')}": value for name, value in changed.items()}
    return [part for pair in given.items() if pair[1] is not None for part in pair]
