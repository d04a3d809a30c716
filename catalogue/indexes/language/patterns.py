"""Words of a question: plain, with open letters, in the markup of readings, or spelled alike.

A pattern is made of letters, `.`, `.?`, `.*`, `.{2}` and `.{2,4}` alone; of several `.*` each but the
last is tried once only (`(?>.*?…)`), which finds the same words and takes no minutes on an odd one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from catalogue.indexes.folding import LONGEST, tokens
from catalogue.indexes.wholes import runs
from catalogue.indexes.wish import AllOf, Run, Wish, Word
from catalogue.reading import GAP, fold, read

NOTHING = AllOf(())

_WILD = re.compile(r"[*?]")
_MARKUP = re.compile(r"[\[\]+_<>{}]|\(.*\)")
_DOUBTFUL = "\N{COMBINING DOT BELOW}"
_ALIKE = re.compile(r"(.*[^\W_])~([12]?)")
_IN_BRACKETS = re.compile(r"\[[^\[\]]*\]|\([^()]*\)")
_BETWEEN = re.compile(r"[^\w\[\]+<>{}()*?\u0300-\u036f]+")
_GAP = re.compile(r"\.(?:\*|\?|\{(\d+)(?:,(\d*))?\})?")
_MOST_WAYS = 2_000
"""So many ways of laying gaps of uncertain width are tried on one word."""


def run(text: str, fields: tuple[str, ...] = ()) -> Wish:
    """Words in a row, as one thing, also where only a stop or a hyphen parts them.

    >>> [each.written for each in run("S.W.7").words]
    ['S', 'W', '7']
    """
    text = _undotted(text)
    found = list(tokens(text))
    joined = {
        at for first, last in runs(text, found, asked=True) for at in range(first + 1, last)
    }
    made = [
        Word(text[each.start : each.end], None, fields, joined=at in joined)
        for at, each in enumerate(found)
    ]
    # "Carver & Co": the sign is a word where it stands between two
    for at in range(len(found) - 1, 0, -1):
        if text[found[at - 1].end : found[at].start].strip() == "&":
            made.insert(at, Word("&", None, fields))
    words = tuple(made)
    return words[0] if len(words) == 1 else Run(words) if words else NOTHING


def _undotted(text: str) -> str:
    """Without the dots below that say a reader doubts a letter; the index folds them away."""
    if text.isascii():
        return text
    return unicodedata.normalize(
        "NFC", unicodedata.normalize("NFD", text).replace(_DOUBTFUL, "")
    )


def word(chunk: str, fields: tuple[str, ...] = ()) -> Wish:
    """What a word without blanks asks for; `NOTHING` when there is nothing in it to look for.

    >>> word("C[..]itt").pattern, word("harrowell~").alike, word("c?b*tt").pattern
    ('c.{2}itt', 1, 'c.b.*tt')
    """
    if "://" in chunk:
        return run(chunk, fields)
    alike = _ALIKE.fullmatch(chunk)
    if alike and isinstance(inner := run(alike[1], fields), Word):
        return Word(inner.written, None, fields, int(alike[2] or 1))
    if _is_markup(chunk):
        damaged = _damaged(_as_gaps(chunk), chunk, fields)
        if damaged is not None:
            return damaged
        if len(parts := _parts(chunk)) > 1:
            return _row([word(each, fields) for each in parts])
    if _WILD.search(chunk):
        return _row(list(_open(chunk, fields)))
    return run(chunk, fields)


def _parts(chunk: str) -> list[str]:
    """The words of a chunk that a hyphen or a stop outside brackets parts: `C[..]itt-Row`."""
    held: list[str] = []
    at = 0
    for inside in _IN_BRACKETS.finditer(chunk):
        held += [_BETWEEN.sub(" ", chunk[at : inside.start()]), inside[0]]
        at = inside.end()
    return "".join([*held, _BETWEEN.sub(" ", chunk[at:])]).split()


def _row(found: list[Wish]) -> Wish:
    """Words in a row."""
    words: list[Word] = []
    for each in found:
        words += (
            [each] if isinstance(each, Word) else each.words if isinstance(each, Run) else []
        )
    return words[0] if len(words) == 1 else Run(tuple(words)) if words else NOTHING


def _is_markup(chunk: str) -> bool:
    return bool(_MARKUP.search(chunk)) or (
        not chunk.isascii() and _DOUBTFUL in unicodedata.normalize("NFD", chunk)
    )


def _as_gaps(chunk: str) -> str:
    """Wildcards outside brackets as gaps of the markup, so that both may stand in one word."""
    if not _WILD.search(chunk):
        return chunk
    held: list[str] = []
    at = 0
    for inside in _IN_BRACKETS.finditer(chunk):
        held += [_gaps(chunk[at : inside.start()]), inside[0]]
        at = inside.end()
    return "".join([*held, _gaps(chunk[at:])])


def _gaps(text: str) -> str:
    return re.sub(r"\*+", "[---]", text).replace("?", "[.]")


def _damaged(markup: str, chunk: str, fields: tuple[str, ...]) -> Wish | None:
    """A word typed as it would be on a label; None when it is not one word of the markup."""
    reading = read(markup)
    found = next((each for each in reading.words() if each.stream != "struck"), None)
    if found is None or len(markup) > LONGEST:
        return None
    if found.pattern is None:
        return None if reading.faults else run(found.text, fields)
    if not all(
        sign.isalnum() or unicodedata.combining(sign) for sign in found.text.replace(GAP, "")
    ):
        return None
    if not any(sign.isalnum() for sign in _GAP.sub("", found.pattern)):
        return None
    pattern = safe(found.pattern)
    return Word(chunk, pattern, fields) if pattern else None


def _open(chunk: str, fields: tuple[str, ...]) -> Iterator[Wish]:
    """A word with `*` (any letters) and `?` (one letter): its pieces, where other signs part them."""
    for piece in re.findall(r"(?:[^\W_]|[*?]|[\u0300-\u036f])+", _undotted(chunk)):
        folded = re.sub(r"\*+", "*", fold(piece))[:LONGEST]
        if not any(sign.isalnum() for sign in folded):
            continue
        if _WILD.search(folded):
            yield Word(piece, wild(folded), fields)
        elif (plain := run(piece, fields)) != NOTHING:
            yield plain


def wild(folded: str) -> str:
    """A pattern for a folded word with `*` (any letters) and `?` (one letter, at the end at most one).

    >>> [bool(re.fullmatch(wild("h?rb*r"), word)) for word in ("harbour", "harbours", "hrbr")]
    [True, False, False]
    """
    pattern = "".join({"*": ".*", "?": "."}.get(sign) or re.escape(sign) for sign in folded)
    return safe(f"{pattern}?" if folded.endswith("?") else pattern) or re.escape(folded)


def safe(pattern: str) -> str | None:
    """The same pattern, quick on every word; None when its gaps can be laid in too many ways.

    >>> safe("a.*b.*c"), safe(".{0,40}a.{0,40}b.{0,40}c.{0,40}")
    ('a(?>.*?b).*c', None)
    """
    ways = 1
    for gap in _GAP.finditer(pattern):
        if int(gap[1] or 0) > LONGEST or int(gap[2] or 0) > LONGEST:
            return None
        if gap[2]:
            ways *= int(gap[2]) - int(gap[1]) + 1
    first, *others = pattern.split(".*")
    if ways > _MOST_WAYS or (ways > 1 and len(others) > 2):
        return None
    if ways > 1 or len(others) < 2:
        return pattern
    middle = "".join(f"(?>.*?{part})" for part in others[:-1] if part)
    return f"{first}{middle}.*{others[-1]}"
