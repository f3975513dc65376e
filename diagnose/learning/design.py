"""The columns of one defect's model, and what is believed of each before a tile is seen.

===========  =======================================================  ==================
column       what it is                                               prior mean
===========  =======================================================  ==================
rules        log hazard of the rule base (see ``signs``)              ``Widths.trust``
expected     sum of the curves of ``expected``                        ``Widths.expected``
curve: ..    what one measure adds to that sum, above its mean        0
wanted       log-odds of the signs that the look is by design         0, or ``beliefs``
cause: ..    share of the cause in that hazard, above its mean        0
sign: ..     how far a sign of the rule base is met, above its mean   0
clue: ..     the same, where the sign is a clue                       0
word: ..     a word of a measure: 1 where it stands                   0, or ``beliefs``
plain: ..    a measure as it is, about its mean                       ``beliefs``
body: ..     the body; so ``body_type``, ``kiln`` and ``base``        0
===========  =======================================================  ==================

``Widths`` holds the prior sd of each kind. Measures as plain numbers and shifted copies of the
ramps were tried and did not help: they are not here.

A clue, such as dust on the bisque, mostly tells nothing beyond the rules; now and then one alone
decides what fails in a studio. Its belief is heavy-tailed (Student's t), so that such a one is not
held back for the sake of the others: ``clue_sds`` holds what each calls for.

A base is what several recipes have in common that differ by their additions alone: a new colour of
it is a new glaze, but not a wholly unknown one.

The glaze is one more group, solved apart (``newton``), as is what it does in one company and not
in another (``pairs``). How much glazes and bodies differ is read
from the tiles themselves: GROUP_WIDTHS are tried, and their geometric mean is taken, each as far
as it foretold the outcomes (``newton.Fitted.log_evidence``).
"""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.learning import beliefs, expected

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.blanks import Drawn
    from diagnose.learning.signs import Evidence
    from diagnose.learning.table import Table


@dataclass(frozen=True)
class Widths:
    """What is believed of coefficients before a tile is seen (log-odds, estimates)."""

    trust: float = 0.55
    trust_sd: float = 0.25
    expected: float = 0.45
    expected_sd: float = 0.25
    curve_sd: float = 0.5
    intercept_sd: float = 0.6
    cause_sd: float = 0.4
    sign_sd: float = 0.25
    clue_sd: float = 1.0
    wanted_sd: float = 0.15
    word_sd: float = 0.07
    plain_sd: float = 0.0
    glaze_sd: float = 0.55
    base_sd: float = 0.45
    body_sd: float = 0.35
    body_type_sd: float = 0.3
    kiln_sd: float = 0.25
    pair_share: float = 0.5
    area_share: float = 0.3
    clue_sds: dict[str, float] = field(default_factory=dict)

    @property
    def pair_sd(self) -> float:
        """How much a glaze differs from itself in other company, as a part of how glazes do."""
        return self.pair_share * self.glaze_sd

    def uses(self, column: str, defect: str) -> bool:
        """Whether a column is in the model of a defect at all."""
        return self.of(column, defect)[1] > 0

    def fixed(self) -> "Widths":
        """With the trust in the rules as it is: nothing but the intercept can move."""
        return replace(self, trust_sd=0.05, expected_sd=0.05, wanted_sd=0.05)

    def between_groups(self, glaze_sd: float, body_sd: float) -> "Widths":
        """With other differences between glazes and between bodies."""
        return replace(
            self,
            glaze_sd=glaze_sd,
            base_sd=0.8 * glaze_sd,
            body_sd=body_sd,
            body_type_sd=0.8 * body_sd,
        )

    def after(self, sizes: dict[str, float]) -> "Widths":
        """With the width that each clue calls for: one variational step towards Student's t.

        Parameters
        ----------
        sizes : dict
            Expected square of the coefficient of each clue's column.
        """
        few, whole = CLUE_FREEDOM * CLUE_SCALE**2, CLUE_FREEDOM + 1
        told = {name: ((few + size) / whole) ** 0.5 for name, size in sizes.items()}
        return replace(self, clue_sds=told)

    def of(self, column: str, defect: str = "") -> tuple[float, float]:
        """Prior mean and sd of a column, in the model of a defect."""
        kind = column.partition(":")[0]
        if column in self.clue_sds:
            return 0.0, self.clue_sds[column]
        if kind == "rules":
            return self.trust * beliefs.TOLD.get(defect, 1.0), self.trust_sd
        if kind == EXPECTED:
            return self.expected, self.expected_sd
        if kind == WANTED:
            return beliefs.BY_MEANING.get(defect, 0.0), self.wanted_sd
        return beliefs.prior(column, defect) or (0.0, getattr(self, f"{kind}_sd"))


RULES, EXPECTED, WANTED = BELIEVED = "rules", expected.TOTAL, "wanted"
DEFAULT = Widths()

GROUP_WIDTHS = (
    (0.3, 0.2, -0.5),
    (0.3, 0.7, -0.7),
    (0.6, 0.35, 0.0),
    (1.0, 0.2, -0.5),
    (1.1, 0.7, -1.0),
)
"""How much glazes and bodies may differ (sd), and how believable that is before any tile (log)."""
FAR_INTERCEPT_SD, FAR_BELIEVED = 1.5, -3.0
"""Some studios are far from the usual rate, or never write it down (about one in twenty)."""
CLUE_FREEDOM, CLUE_SCALE, CLUE_PASSES = 3.0, 0.2, 4
"""The belief of a clue: degrees of freedom, scale [log-odds], and steps towards it from clue_sd."""
BASE = "base"
SHARED = ("body", "body_type", "kiln", BASE)


@dataclass
class Layout:
    """Which columns a model has, and their means, so that new rows are centred alike."""

    columns: list[str] = field(default_factory=list)
    centre: dict[str, float] = field(default_factory=dict)


def evidence_columns(evidence: "Evidence") -> "dict[str, np.ndarray]":
    """What the rule base says of each row."""
    found = {RULES: evidence.log_hazard, WANTED: evidence.wanted}
    for at, cause in enumerate(evidence.causes):
        found[f"cause:{cause}"] = evidence.responsible[:, at]
    for at, key in enumerate(evidence.keys):
        found[sign_column(key)] = evidence.signs[:, at]
    return found


def sign_column(key: str) -> str:
    """The column of a sign, by its key in `signs.Evidence`."""
    from tiles.records.clues import clues

    return f"{'clue' if key.partition('|')[0] in clues() else 'sign'}:{key}"


def common_columns(table: "Table", drawn: "Drawn") -> "dict[str, np.ndarray]":
    """The columns that do not depend on the defect: plain measures, words, body and kiln."""
    found = beliefs.columns(drawn)
    for name in drawn.words:
        words, codes = drawn.coded(name)
        for at, word in enumerate(words):
            found[f"word:{name}={word}"] = (codes == at).mean(axis=0)
    for group in SHARED:
        for name in sorted(set(table.groups[group]) - {""}):
            found[f"{group}:{name}"] = (table.groups[group] == name).astype(float)
    return found


def lay_out(raw: "dict[str, np.ndarray]") -> Layout:
    """Keep the columns that vary, and centre all but what the rules say."""
    import numpy as np

    layout = Layout()
    for name, values in raw.items():
        known = values[np.isfinite(values)]
        if name not in BELIEVED and (not known.size or known.std() < 1e-6):
            continue
        layout.columns.append(name)
        layout.centre[name] = 0.0 if name in BELIEVED else float(known.mean())
    return layout


def matrix(layout: Layout, raw: "dict[str, np.ndarray]", n: int) -> "np.ndarray":
    """The columns side by side after a column of ones. shape (n, 1 + columns)."""
    import numpy as np

    x = np.zeros((n, 1 + len(layout.columns)))
    x[:, 0] = 1.0
    for at, name in enumerate(layout.columns, start=1):
        # What is in no row of this table is as blank as it was where it was learned: a row must be
        # forecast alike in any company.
        x[:, at] = np.nan_to_num(raw.get(name, 0.0) - layout.centre[name])
    plain = [at for at, name in enumerate(layout.columns, start=1) if beliefs.is_plain(name)]
    x[:, plain] = x[:, plain].clip(-beliefs.REACH, beliefs.REACH)
    return x


def priors(layout: Layout, widths: Widths, defect: str) -> "tuple[np.ndarray, np.ndarray]":
    """Prior mean and sd of the intercept (to be started elsewhere) and every column."""
    import numpy as np

    each = [widths.of(name, defect) for name in layout.columns]
    mean = np.array([0.0, *(mean for mean, _ in each)])
    return mean, np.array([widths.intercept_sd, *(sd for _, sd in each)])
