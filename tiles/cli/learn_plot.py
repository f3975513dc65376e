"""``tiles learn --plot``: reliability, learning curve and strongest lessons in one picture."""

import textwrap
from math import ceil, floor, log
from pathlib import Path

from tiles.cli.plots import BLUE, GREY, RED, save
from tiles.errors import InvalidValue

MOST_LESSONS = 10
LABEL_WIDTH, CAPTION = 44, 60
LEAST_LUCK = 0.01
"""A chance off by what luck does to any of the points more seldom is not put down to luck."""


def draw(model, defects: list[str], file: Path) -> None:
    """Save the picture, of a name that `check_name` found good.

    Parameters
    ----------
    model : Model
        With the tiles it was learned from.
    defects : list of str
        Those that were learned, at least one.
    file : Path
        Where to.

    Raises
    ------
    InvalidValue
        The file cannot be written.
    """
    from matplotlib.figure import Figure

    figure = Figure(figsize=(11, 9), layout="constrained")
    above, below = figure.subfigures(2, 1, height_ratios=[1, 1.1])
    left, right = above.subplots(1, 2)
    _reliability(left, model, defects)
    _curve(right, model, defects)
    _lessons(below.subplots(), model, defects)
    save(figure, file, dpi=130)


def check_name(file: Path) -> None:
    """Refuse a name that cannot become a picture, before anything long is worked out.

    Raises
    ------
    InvalidValue, AlreadyOnRecord
        No ending of a picture, no such folder, or a file is there already.
    """
    from tiles.cli.user_files import refuse_existing

    if file.suffix.casefold() not in (".png", ".svg", ".pdf"):
        raise InvalidValue(f"{file.name} is no picture's name.", "--plot report.png.", field="plot")
    if not file.parent.is_dir():
        raise InvalidValue(f"there is no folder {file.parent}.", "another place.", field="plot")
    refuse_existing(file)


def check_learned(defects: list[str]) -> None:
    """Refuse to draw where nothing was learned.

    Raises
    ------
    InvalidValue
        No defect.
    """
    if not defects:
        raise InvalidValue("nothing was learned yet, so there is nothing to draw.", "no --plot.")


def _reliability(axes, model, defects: list[str]) -> None:
    from diagnose.learning.report import reliability

    found = reliability(model, defects)
    top = max([*found.forecast, *found.came, 0.1]) * 1.1
    axes.plot([0, top], [0, top], color=GREY, linewidth=1, linestyle="--", label="as it should be")
    spans = _spans(found)
    error = [
        [share - low for share, (low, _) in zip(found.came, spans, strict=True)],
        [high - share for share, (_, high) in zip(found.came, spans, strict=True)],
    ]
    axes.errorbar(found.forecast, found.came, yerr=error, color=BLUE, marker="o", capsize=3,
                  label="your tiles, with 90 % range")  # fmt: skip
    axes.set_xlim(0, top)
    axes.set_ylim(0, None)
    axes.set_xlabel("\n".join(["chance that was forecast", *off_said(found)]))
    axes.set_ylabel("share of areas that had it")
    axes.set_title("Can the chances be trusted?\n(all defects, as for a new glaze)")
    axes.set_ylim(0, axes.get_ylim()[1] * 1.3)  # room for the legend above the points
    axes.legend(loc="upper left", frameon=False)


def off_said(found) -> list[str]:
    """Whether chances lay off by more than their ranges; nothing where none did.

    Parameters
    ----------
    found : Reliability
        Groups of held-back forecasts.
    """
    groups = list(zip(found.forecast, found.came, found.areas, _spans(found), strict=True))
    off = [each for each in groups if not each[3][0] <= each[0] <= each[3][1]]
    if not off:
        return []
    # One in ten lies outside its range by luck.
    firm = [each for each in off if _luck(*each[:3]) * len(groups) < LEAST_LUCK]
    rest = "lies off by more than its range" + ("" if firm else ", which may be luck")
    if len(off) > 1:
        rest = "lie off by more than their range: take chances as rough"
    lines = [f"{len(off)} of {len(groups)} {rest}"]
    for often in ("more often", "more seldom"):
        told = [
            f"{came:.0%} where {_told(chance)} was told"
            for chance, came, *_ in firm
            if (came > chance) is (often == "more often")
        ]
        if told:
            lines += textwrap.wrap(f"{often} than told, not by luck: {', '.join(told)}", CAPTION)
    return lines


def _luck(chance: float, came: float, areas: int) -> float:
    """The odds in 1 that so many or more came, or so few or fewer, were the mean chance true.

    Chances that differ within a group scatter less than this says.
    """
    from scipy.special import bdtr, bdtrc

    count = round(came * areas)
    if came > chance:
        return float(bdtrc(count - 1, areas, chance))
    return float(bdtr(count, areas, chance))


def _told(chance: float) -> str:
    return f"{chance:.0%}" if chance >= 0.01 else "under 1%"


def _spans(found) -> list[tuple[float, float]]:
    return [_span(share, n) for share, n in zip(found.came, found.areas, strict=True)]


def _span(share: float, areas: int) -> tuple[float, float]:
    """90 % range of a share (Wilson's interval)."""
    from diagnose.learning.model import NINETY_PERCENT

    z2 = NINETY_PERCENT**2
    centre = (share + z2 / (2 * areas)) / (1 + z2 / areas)
    half = (z2 * (share * (1 - share) / areas + z2 / (4 * areas**2))) ** 0.5 / (1 + z2 / areas)
    return min(share, centre - half), max(share, centre + half)


def _curve(axes, model, defects: list[str]) -> None:
    from diagnose.learning import validate
    from diagnose.learning.report import learning_curve

    curves = {
        f"for {what}": learning_curve(model, defects, split)
        for what, split in (("glazes with tiles", validate.TILES), ("a new glaze", validate.GLAZES))
    }
    curves = {what: points for what, points in curves.items() if points}
    axes.set_title("What more tiles are worth")
    if not curves:
        axes.text(0.5, 0.5, "from 37 tiles on", ha="center", va="center", color=GREY)
        axes.set_axis_off()
        return
    axes.axhline(0, color=GREY, linewidth=1, linestyle=":", label="guessing the usual rate")
    for (what, points), line in zip(curves.items(), ("-", "--"), strict=False):
        sizes = [each.tiles for each in points]
        axes.plot(sizes, [100 * each.yours for each in points], color=BLUE, marker="o",
                  linestyle=line, label=f"with your tiles, {what}")  # fmt: skip
        axes.plot(sizes, [100 * each.rules for each in points], color=RED, marker="s",
                  linestyle=line, label=f"common practice alone, {what}")  # fmt: skip
    axes.set_xscale("log")
    axes.set_xticks(sizes, [str(size) for size in sizes])
    axes.minorticks_off()
    axes.set_xlabel("\n".join(["tiles learned from", *last_step_said(curves)]))
    axes.set_ylabel("less error than guessing, %")
    low, high = axes.get_ylim()
    axes.set_ylim(low, high + 0.5 * (high - low))
    axes.legend(loc="upper left", frameon=False, fontsize=9)


def last_step_said(curves: dict[str, list]) -> list[str]:
    """Where the most tiles forecast worse than fewer did; nothing where none did.

    Parameters
    ----------
    curves : dict
        Points of each learning curve, by what it is for.
    """
    from diagnose.learning.validate import LEAST_GAIN

    fell = [
        what
        for what, points in curves.items()
        if len(points) > 1 and points[-1].yours < points[-2].yours - LEAST_GAIN
    ]
    return [f"the last step did not help {' or '.join(fell)}"] if fell else []


def _lessons(axes, model, defects: list[str]) -> None:
    from diagnose.learning.report import lessons

    found = [(defect, each) for defect in defects for each in lessons(model, defect)]
    found = sorted(found, key=lambda each: -abs(each[1].move))[:MOST_LESSONS][::-1]
    axes.set_title("Strongest lessons: where your tiles differ from common practice")
    if not found:
        axes.text(0.5, 0.5, "none yet", ha="center", va="center", color=GREY)
        axes.set_axis_off()
        return
    labels = [textwrap.fill(f"{defect}: {each.said}", LABEL_WIDTH) for defect, each in found]
    moves = [each.move for _, each in found]
    axes.barh(range(len(found)), moves, color=[RED if move > 0 else BLUE for move in moves])
    axes.set_yticks(range(len(found)), labels, fontsize=8)
    axes.axvline(0, color=GREY, linewidth=1)
    doublings = range(floor(min([*moves, 0]) / log(2)), ceil(max([*moves, 0]) / log(2)) + 1)
    axes.set_xticks([each * log(2) for each in doublings], [_times(each) for each in doublings])
    axes.set_xlabel("how often it comes, about, beside what common practice expects")


def _times(doublings: int) -> str:
    """How much likelier, in words: a bar of one doubling makes a rare fault come twice as often."""
    if doublings == 0:
        return "as often"
    return f"{2**doublings} times" if doublings > 0 else f"1/{2**-doublings} as often"
