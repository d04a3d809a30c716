"""The last scan: every finished file is searched for what stays in the house, before it leaves.

The lists of what may leave are the rule; this is the second look, at the very bytes. A file's words
are asked for the rarest word of each secret, all at once; only where all of its words are there their
order is looked at, and only where that fits, the place in the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from catalogue.exchange.outgoing import Content
from catalogue.exchange.scanning.finding_places import place_of
from catalogue.exchange.scanning.guarded import LONG, Guarded, Wanted, Words
from catalogue.exchange.scanning.secrets_in import Secret
from catalogue.exchange.scanning.texts_of_files import texts_of
from catalogue.exchange.scanning.words_in_files import (
    all_words,
    undone,
    without_elements,
    words,
)

MOST = 200
"""So many hits are told of one by one."""

AROUND = 40
_LONG_SUM = 6

_MARKED_UP = frozenset({".xml", ".html", ".xhtml", ".svg", ".rels"})
_NO_NUMBERS = frozenset({".pdf", ".jpg", ".jpeg"})
"""What is drawn or photographed is full of digits that nobody wrote."""

_NUMBERS = re.compile(rb"[0-9](?:[0-9 ()./+-]|\xc2\xa0){4,}[0-9]")
_NO_DIGITS = bytes(set(range(256)) - set(b"0123456789"))
_UUID = re.compile(rb"[0-9a-fA-F]{8}-(?:[0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}")
_BETWEEN = rb"[^A-Za-z0-9]{1,40}"
_IN_A_SUM = rb"(?:[.,' ]|\xc2\xa0|\xe2\x80[\xaf\x99])"


@dataclass(frozen=True, slots=True)
class Hit:
    """One secret in one finished file: where in it, and the words around."""

    file: str
    where: str
    secret: Secret
    around: str


@dataclass(slots=True)
class LastScan:
    """The scan of one export: what it looks for, and what it has found.

    `hits` are the first ones, `count` is of all; `found` are the secrets that were hit at all, each with
    the first hit, `in_names` those that stand in the name of a file.
    """

    guarded: Guarded
    hits: list[Hit] = field(default_factory=list)
    count: int = 0
    found: dict[Secret, Hit] = field(default_factory=dict)
    in_names: set[Secret] = field(default_factory=set)

    def look(self, name: str, content: Content) -> None:
        """Search one finished file: its name, its text, and what is packed in it."""
        if not len(self.guarded):
            return
        self._look(name, "its name", name.encode(), PurePosixPath(name).suffix, in_name=True)
        for inner, kind, text in texts_of(name, content):
            self._look(inner, "", text, kind)

    def _look(
        self, file: str, where: str, text: bytes, kind: str, *, in_name: bool = False
    ) -> None:
        plain = undone(text)
        found: dict[Secret, re.Match[bytes]] = {}
        for secret, at in self._secrets_in(plain, numbers=kind not in _NO_NUMBERS):
            found.setdefault(secret, at)
        if kind in _MARKED_UP and not in_name:
            # Words that elements stand between, and words that elements stand within.
            for version in without_elements(plain):
                for secret, at in self._in_words(version):
                    if secret.kind != "sum":
                        found.setdefault(secret, at)
        for secret, at in found.items():
            if in_name:
                self.in_names.add(secret)
            told = where or place_of(secret.text, text, kind, at)
            self._tell(Hit(file, told, secret, _around(at)))

    def _tell(self, hit: Hit) -> None:
        self.count += 1
        self.found.setdefault(hit.secret, hit)
        if len(self.hits) < MOST:
            self.hits.append(hit)

    def _secrets_in(
        self, text: bytes, *, numbers: bool
    ) -> Iterator[tuple[Secret, re.Match[bytes]]]:
        yield from self._in_words(text)
        if numbers:
            yield from self._in_numbers(text)
        for path, secret in self.guarded.paths.items():
            if path in text and (at := re.search(re.escape(path), text)):
                yield secret, at

    def _in_words(self, text: bytes) -> Iterator[tuple[Secret, re.Match[bytes]]]:
        yield from _in_rows(self.guarded.rows(plain=True), words(text), text)
        if self.guarded.rows(plain=False) and not text.isascii():
            yield from _in_rows(self.guarded.rows(plain=False), all_words(text), text)

    def _in_numbers(self, text: bytes) -> Iterator[tuple[Secret, re.Match[bytes]]]:
        numbers, endings = self.guarded.numbers, self.guarded.endings
        if not numbers and not endings:
            return
        for found in _NUMBERS.finditer(text):
            digits = found[0].translate(None, _NO_DIGITS)
            secret = numbers.get(digits)
            if secret is None and len(digits) >= LONG and endings:
                ends = (digits[at : at + LONG] for at in range(len(digits) - LONG + 1))
                secret = next((endings[each] for each in ends if each in endings), None)
            if secret is not None and _is_a_number(found, text):
                yield secret, found


def _in_rows(
    rows: dict[bytes, list[Wanted]], here: list[bytes], text: bytes
) -> Iterator[tuple[Secret, re.Match[bytes]]]:
    present = set(here)
    wanted = {
        anchor: whole
        for anchor in rows.keys() & present
        if (whole := [each for each in rows[anchor] if each.each <= present])
    }
    if not wanted:
        return
    found: dict[Secret, re.Match[bytes]] = {}
    for position, word in enumerate(here):
        for each in wanted.get(word, ()):
            if each.secret not in found and (at := _row(each, here, position, text)):
                found[each.secret] = at
    yield from found.items()


def _row(
    wanted: Wanted, here: list[bytes], position: int, text: bytes
) -> re.Match[bytes] | None:
    """Where in a text the wanted words stand in a row, as they are written, around one of its words."""
    length = len(wanted.run)
    for start in range(max(0, position - length + 1), position + 1):
        run = tuple(here[start : start + length])
        if wanted.is_at(run) and (at := _stands(wanted.secret, run, text)):
            return at
    return None


def _stands(secret: Secret, run: Words, text: bytes) -> re.Match[bytes] | None:
    """Where in a text a run of words stands in the way in which that kind of secret is written."""
    if secret.kind == "sum":
        # Two short groups are a price only with a sign between that no pair of measures has.
        between = rb"[.,']" if len(b"".join(run)) < _LONG_SUM else _IN_A_SUM
        inner = between.join(run)
        return re.search(rb"(?<![\w.,=-])" + inner + rb"(?![.,]?\w|-)", text)
    if secret.kind == "e-mail":
        return re.search(re.escape(secret.text.encode()), text, re.IGNORECASE)
    if secret.kind == "name" and len(run) == 1:
        # A name of one word may be a word as well: it is a name where it begins as one does.
        written = secret.text.strip().encode()
        either = b"|".join(re.escape(each) for each in {written, written.upper()})
        return re.search(rb"(?<![A-Za-z0-9])(?:" + either + rb")(?![A-Za-z0-9])", text)
    if not all(word.isascii() for word in run):
        return _in_any_script(run, text)
    inner = _BETWEEN.join(run)
    return re.search(rb"(?<![A-Za-z0-9])" + inner + rb"(?![A-Za-z0-9])", text, re.IGNORECASE)


def _in_any_script(run: Words, text: bytes) -> re.Match[bytes] | None:
    """Where words of any script stand in a row; their letters have been compared already."""
    row = r"[\W_]{1,40}".join(re.escape(word.decode()) for word in run)
    found = re.search(row, text.decode("utf-8", "replace"), re.IGNORECASE)
    # What folding made of other letters (a sharp s, say) is told at the beginning.
    return re.search(re.escape(found[0].encode()) if found else b"", text)


def _is_a_number(found: re.Match[bytes], text: bytes) -> bool:
    """Whether digits are a number of their own, and no part of an identifier or a digest."""
    start, end = found.span()
    if text[max(0, start - 1) : start].isalnum() or text[end : end + 1].isalnum():
        return False
    near = text[max(0, start - 37) : end + 37]
    return not any(
        each.start() - 1 <= min(start, 37) <= each.end() for each in _UUID.finditer(near)
    )


def _around(at: re.Match[bytes]) -> str:
    start, end = max(0, at.start() - AROUND), at.end() + AROUND
    return " ".join(at.string[start:end].decode("utf-8", "replace").split())
