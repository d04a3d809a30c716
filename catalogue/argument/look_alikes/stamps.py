"""Two stamps held beside each other by their measures alone: the trade sheet's C8.

Canvas stretches and labels are trimmed, so measures are approximate (National Portrait Gallery,
London). The words of the verdict are fixed (vocab/terms/verdict.ttl); none of them certifies anything.
"""

from __future__ import annotations

from catalogue.argument.look_alikes.print_words import TABLE
from catalogue.places import table


def stamp_verdict(one: tuple[float, float] | None, other: tuple[float, float] | None) -> str:
    """What two sizes (width, height in mm) say of two stamps, as a term of vocab/terms/verdict.

    >>> stamp_verdict((48.0, 31.5), (47.1, 30.6))
    'verdict/consistent'
    >>> stamp_verdict((48.0, 31.5), (40.0, 31.5)), stamp_verdict(None, (40, 31.5))
    ('verdict/inconsistent', 'verdict/cannot-say')
    """
    if one is None or other is None:
        return "verdict/cannot-say"
    rules = table(TABLE)["stamps"]
    apart = max(differences_percent(one, other))
    if apart <= rules["tolerance_percent"]:
        return "verdict/consistent"
    if apart <= rules["doubtful_percent"]:
        return "verdict/not-inconsistent"
    return "verdict/inconsistent"


def differences_percent(
    one: tuple[float, float], other: tuple[float, float]
) -> tuple[float, float, float]:
    """By how many percent the widths, the heights and the proportions differ.

    >>> [round(each, 1) for each in differences_percent((48.0, 31.5), (47.1, 30.6))]
    [1.9, 2.9, 1.0]
    """

    def apart(mine: float, theirs: float) -> float:
        return 100 * abs(mine - theirs) / max(mine, theirs)

    return (
        apart(one[0], other[0]),
        apart(one[1], other[1]),
        apart(one[0] / one[1], other[0] / other[1]),
    )
