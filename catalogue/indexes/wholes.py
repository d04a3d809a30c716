"""Words that are written in one or apart: `H.M.S.` and `HMS`, `Fenwick-Dray`, `M'Bride`, `Sea/Wall`.

A text has one place for each of its words, and the parts of such a word are words: `H.M.S. Victory` has
four places. The whole is one more term at the place of its first part, so that it is found when somebody
types it as one; beside it lies a term that says of which parts it is made ("hms h m s"; no word of a text
has a blank in it). A question for `"hms victory"` reads there how else the first word may stand, and asks
for the four words in a row as well. So every place is right in every spelling, and none is counted twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import pairwise

from catalogue.indexes.folding import LONGEST, Token, tokens
from catalogue.places import table

MOST_PARTS = 8

BETWEEN = " "
"""What parts a whole from its parts in the term that says them."""

_LETTERS = frozenset((".", ". ", ".\u00a0", ".-", " "))
_HYPHENS = frozenset(
    f"{hyphen}{end}" for hyphen in "-‐‑⸗\u00ad" for end in ("", "\n")
) | frozenset(("'", "’", "ʼ", "‘", "/", "–"))
_APOSTROPHES = "'’ʼ‘"
_JOINTS = _LETTERS | _HYPHENS


def wholes(text: str, words: Sequence[Token], *, asked: bool = False) -> Iterator[Token]:
    """The wholes among the words of a text; of a question (`asked`) also those in small letters.

    >>> from catalogue.indexes.folding import tokens
    >>> said = "H.M.S. Victory, S.W.7"
    >>> [each.forms for each in wholes(said, list(tokens(said)))]
    [('hms',), ('hm',), ('sw7',), ('sw',)]
    """
    for first, last in runs(text, words, asked=asked):
        if last - first <= MOST_PARTS:
            yield from _of(text, words[first:last])


def all_words(text: str) -> Iterator[Token]:
    """The words of a text, then the wholes among them, and `&` as a word at the place of the next one.

    >>> [(each.forms[0], each.position) for each in all_words("H.M. & Co")]
    [('h', 0), ('m', 1), ('co', 2), ('hm', 0), ('&', 2)]
    """
    words = list(tokens(text))
    yield from words
    if len(words) > 1:
        yield from wholes(text, words)
    if "&" in text:
        yield from _signs(text, words)


def _signs(text: str, words: Sequence[Token]) -> Iterator[Token]:
    for before, word in pairwise(words):
        at = text.find("&", before.end, word.start)
        if at >= 0:
            yield Token(at, at + 1, word.position, ("&",), whole=True)


def runs(
    text: str, words: Sequence[Token], *, asked: bool = False
) -> Iterator[tuple[int, int]]:
    """From which word to before which other one is written in one."""
    first = 0
    before = None
    for at, word in enumerate(words):
        if before is not None and (
            (gap := text[before.end : word.start]) not in _JOINTS
            or (
                gap == " "
                and not asked
                and before.end - before.start > 3
                and text[word.start] > "9"
            )
            or not _joins(text, before, gap, word, asked)
        ):
            if at - first > 1:
                yield first, at
            first = at
        before = word
    if len(words) - first > 1:
        yield first, len(words)


def _joins(text: str, before: Token, gap: str, word: Token, asked: bool) -> bool:
    """Whether what stands between two words makes them one."""
    last, next_ = text[before.end - 1], text[word.start]
    if gap in _HYPHENS:
        return not (last.isdigit() and next_.isdigit())
    form, other = before.forms[0], word.forms[0]
    if next_.isdigit():
        # a district: S.W.7, S.W. 7, SW 7
        short = len(other) <= 2 and (asked or last.isupper())
        return short and (form in _districts() or (len(form) == 1 and gap != " "))
    if gap == " ":
        if last.isdigit():
            return other in _units() and form.isdigit()
        if form in ("mac", "mc"):
            return asked or next_.isupper()
        if not asked and not (last.isupper() and next_.isupper()):
            return False
    return len(form) == len(other) == 1 and last.isalpha() and next_.isalpha()


def _of(text: str, run: Sequence[Token]) -> Iterator[Token]:
    last = run[-1].forms[0]
    letters = "".join(each.forms[0] for each in run[:-1])
    numbered = last.isdigit() and all(len(each.forms[0]) == 1 for each in run[:-1])
    if not numbered or letters in _districts() or text[run[-2].end : run[-1].start] in _HYPHENS:
        yield _whole(text, run)
    # S.W.7 is also in S.W., Fenwick-Dray's also Fenwick-Dray's own name
    if len(run) > 2 and (numbered or last == "s"):
        yield _whole(text, run[:-1])


def _whole(text: str, run: Sequence[Token]) -> Token:
    parts = [each.forms[0] for each in run]
    forms = ["".join(parts), "".join(each.forms[-1] for each in run)]
    gap = text[run[0].end : run[1].start]
    if parts[0] in _sons() and len(parts[1]) > 2 and (gap in _APOSTROPHES or parts[0] != "m"):
        forms.append("".join(("mc", *parts[1:])))
    forms = list(dict.fromkeys(form for form in forms if len(form) <= LONGEST))
    said = BETWEEN.join(parts)
    return Token(
        run[0].start,
        run[-1].end,
        run[0].position,
        tuple(forms),
        tuple(f"{form}{BETWEEN}{said}" for form in forms),
        whole=True,
    )


@cache
def _districts() -> frozenset[str]:
    return frozenset(table("folding.toml")["joined"]["districts"])


@cache
def _units() -> frozenset[str]:
    return frozenset(table("folding.toml")["joined"]["units"])


@cache
def _sons() -> frozenset[str]:
    return frozenset(table("folding.toml")["joined"]["sons"])
