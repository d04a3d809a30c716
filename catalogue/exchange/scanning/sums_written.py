"""The ways in which one sum of money is written, as words: with and without cents, in groups of three.

Only what has six signs and more is looked for: `950` stands everywhere.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

SHORTEST = 6
LEAST = 1000
"""Below this a sum with its cents looks like a measure."""


def written_sums(amount: str) -> tuple[tuple[bytes, ...], ...]:
    """Every way, each as the words that stand in a row.

    >>> written_sums("2400")
    ((b'2400', b'00'), (b'2', b'400', b'00'))
    >>> written_sums("125000.5")[:3]
    ((b'125000', b'50'), (b'125', b'000', b'50'), (b'125000', b'5'))
    >>> written_sums("950")
    ()
    """
    try:
        said = Decimal(amount).quantize(Decimal("0.01"))
    except InvalidOperation:
        return ()
    whole, cents = divmod(int(said * 100), 100)
    if whole < LEAST:
        return ()
    plain, groups = str(whole), f"{whole:,}".split(",")
    found = [[plain, f"{cents:02d}"], [*groups, f"{cents:02d}"]]
    if cents and cents % 10 == 0:
        found.append([plain, str(cents // 10)])
    if not cents:
        found += [each for each in ([plain], groups) if len(".".join(each)) >= SHORTEST]
    return tuple(tuple(each.encode() for each in one) for one in found)
