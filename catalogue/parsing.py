"""Texts in, what they mean out, as plain data: for old job books and for whoever tests our readers.

Every answer has `text` (the input, untouched) and `rest` (the characters that were not understood,
in order); the other keys are those of its kind. No text of any sort raises anything here.
"""

from __future__ import annotations

import json
from codecs import BOM_UTF8
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict
from typing import Any, Final, TypeAlias

from catalogue.argument import Conflict, Dating, Reason, date_label
from catalogue.argument.inscription_fields import read_inscriptions
from catalogue.argument.prose.reading import read_provenance, told_plainly
from catalogue.argument.statements import FoundStatement, find_statements
from catalogue.errors import MarkupError
from catalogue.measure import (
    Day,
    MoneyReading,
    Use,
    WrittenSize,
    canvas_names,
    outside,
    read_money,
    read_name,
    read_sizes,
    understand,
)
from catalogue.reading import Fault, read

Answer: TypeAlias = dict[str, Any]
Reader: TypeAlias = Callable[[str], Answer]
NO_LETTER: Final = "\N{REPLACEMENT CHARACTER}"
"""What a byte becomes that is not UTF-8."""
_SEPARATORS: Final = " \t\r\n,;"
_OF_A_SIZE: Final = (
    "what", "height_mm", "width_mm", "depth_mm", "diameter_mm", "written", "within_mm", "canvas",
)  # fmt: skip
_OF_A_CANVAS: Final = (None, "support", "stretcher", "original")
"""What is measured where a size may be that of a canvas as it was bought."""


def label(text: str) -> Answer:
    """A label in the markup: its renderings, its words, its tree, what it says, its date, its faults.

    >>> found = label("Gal.(erie) Sm[ith")
    >>> found["plain"], found["seen"], found["rest"]
    ('Galerie Sm[ith', 'Gal. Sm[ith', '[')
    >>> found["errors"][0]["at"], found["errors"][0]["message"]
    (13, "this '[' has no partner: kept as a letter")
    """
    try:
        reading = read(text)
    except MarkupError as refused:
        return {
            **_no_label(text),
            "errors": [_error(0, "", str(refused.args[0]), refused.remedy)],
        }
    return {
        "text": text,
        "rest": "".join(fault.sign for fault in reading.faults if fault.literal),
        "diplomatic": reading.diplomatic(),
        "plain": reading.plain(),
        "seen": reading.seen(),
        "words": [asdict(word) for word in reading.words()],
        "tei": reading.tei(),
        "tree": reading.outline(),
        "statements": [_stated(each) for each in find_statements(reading)],
        "dating": _dating(date_label(reading)),
        "errors": [_told(fault) for fault in reading.faults],
    }


def _stated(found: FoundStatement) -> Answer:
    """What some letters say; `doubt` is why they may not, null where nothing speaks against it."""
    told = {**asdict(found), "doubt": found.doubt or None}
    return {**told, "kind": found.kind.removeprefix("statement/")}


def _no_label(text: str) -> Answer:
    return {
        **dict.fromkeys(("diplomatic", "plain", "seen", "tei"), ""),
        **{key: [] for key in ("words", "tree", "statements", "errors")},
        "dating": None, "text": text, "rest": text,
    }  # fmt: skip


def _dating(dating: Dating) -> Answer:
    """The firm days, then those that all the reasons leave with their margins; null = open."""
    days = ("earliest", "latest", "soft_earliest", "soft_latest")
    return {
        "dates": dating.main.what,
        **{name: _iso(getattr(dating, name)) for name in days},
        "reasons": [_reason(each) for each in dating.reasons],
        "conflicts": [_conflict(each) for each in dating.conflicts],
    }


def _reason(reason: Reason) -> Answer:
    names = ("rule", "written", "start", "end", "strength", "dates", "why", "source")
    return {
        **{name: getattr(reason, name) for name in names},
        "earliest": _iso(reason.earliest),
        "latest": _iso(reason.latest),
    }


def _conflict(conflict: Conflict) -> Answer:
    return {
        "first": conflict.first.rule,
        "second": conflict.second.rule,
        "firm": conflict.firm,
        "words": conflict.words,
    }


def _iso(day: Day | None) -> str | None:
    return day.iso if day else None


def _told(fault: Fault) -> Answer:
    return _error(fault.at, fault.sign, fault.message, fault.remedy)


def _error(at: int, sign: str, message: str, remedy: str | None) -> Answer:
    return {"at": at, "sign": sign, "message": message, "remedy": remedy}


def date(text: str, circa: int = 5) -> Answer:
    """A date as people write it: its EDTF, its bounds, the rule that made them, or why there is none.

    `rest` is what was not understood beside a date that is beyond doubt, else the whole text.

    >>> found = date("spring 1903")
    >>> found["edtf"], found["earliest"], found["latest"], found["rest"]
    ('1903-21', '1903-03-01', '1903-05-31', '')
    >>> date("1887 (relined by somebody)")["rest"]
    ' (relined by somebody)'
    >>> date("31 February 1900")["why"]
    'there is no day 1900-02-31'
    """
    understood = understand(text, circa)
    span = understood.span
    return {
        "text": text,
        "rest": understood.rest,
        "edtf": span.edtf if span else None,
        "earliest": span.earliest.iso if span and span.earliest else None,
        "latest": span.latest.iso if span and span.latest else None,
        "rule": understood.rule or None,
        "why": understood.why or None,
    }


def sizes(text: str) -> Answer:
    """The sizes in a text in millimetres, in its order.

    `within_mm` is the precision that the writing implies; `canvas` are the sizes that a French number
    may name; `fits` are the named canvas sizes that a measured one fits, the nearest first, with how
    much it is larger; `doubt` says why it may be no size.

    >>> found = sizes("unframed: 24 x 20 in., relined")
    >>> found["sizes"][0]["height_mm"], found["sizes"][0]["within_mm"], found["rest"]
    (609.6, 12.7, ', relined')
    >>> [each["name"] for each in found["sizes"][0]["fits"]]
    ['head', '12F']
    """
    found = read_sizes(text)
    return {
        "text": text,
        "rest": _outside(text, [size.said for size in found]),
        "sizes": [
            {key: getattr(size, key) for key in _OF_A_SIZE}
            | {"fits": _fits(size), "doubt": size.doubt or None}
            for size in found
        ],
    }


def _fits(size: WrittenSize) -> list[Answer]:
    """The named canvas sizes that a measured support fits."""
    if size.what not in _OF_A_CANVAS or size.canvas or not (size.height_mm and size.width_mm):
        return []
    return [
        {
            "name": match.size.name,
            "off_height_mm": match.off_height_mm,
            "off_width_mm": match.off_width_mm,
        }
        for match in canvas_names(size.height_mm, size.width_mm)
    ]


def money(text: str) -> Answer:
    """The amounts of money in a text, in its order; `readings` are all the ways to read one.

    The currency and value of an amount are those of its first reading; its days are those of all.

    >>> found = money("sold, 12 gns")
    >>> found["amounts"][0]["value"], found["amounts"][0]["not_after"], found["rest"]
    (12.6, '1971-02-14', 'sold, ')
    """
    found = read_money(text)
    return {
        "text": text,
        "rest": _outside(text, [(amount.start, amount.end) for amount in found]),
        "amounts": [
            {
                "written": amount.written,
                **_of_money(amount.readings[0], amount.use),
                "doubt": amount.doubt or None,
                "readings": [_of_money(each, each.use) for each in amount.readings],
            }
            for amount in found
        ],
    }


def _of_money(reading: MoneyReading, use: Use) -> Answer:
    whole = reading.value.denominator == 1
    return {
        "currency": reading.currency,
        "value": int(reading.value) if whole else float(reading.value),
        "not_before": use.not_before.isoformat() if use.not_before else None,
        "not_after": use.not_after.isoformat() if use.not_after else None,
    }


def _outside(text: str, spans: Iterable[tuple[int, int]]) -> str:
    """What stands outside these spans, without the stretches that are nothing but separators."""
    return "".join(part for part in outside(text, spans) if part.strip(_SEPARATORS))


def names(text: str) -> Answer:
    """A name taken apart: words of attribution, family and given name, titles, years, and what it is.

    >>> found = names("Follower of Ada van der Quill (1840-1926)")
    >>> found["qualifier"], found["family"], found["given"], found["life"], found["kind"]
    ('Follower of', 'van der Quill', 'Ada', '1840-1926', 'person')
    """
    return asdict(read_name(text))


def inscriptions(text: str) -> Answer:
    """A cataloguer's field of inscriptions: one item for each mark that it tells apart.

    Items, `rest` and separators between them are the whole text.

    >>> found = inscriptions("signed l.r.: A. Wynne / 1887; on the stretcher, in pencil: 412")
    >>> for item in found["items"]:
    ...     print(item["kind"], item["face"], item["place"], item["lines"], item["years"])
    signature None lower right ['A. Wynne', '1887'] [1887]
    number stretcher-bar None ['412'] []
    """
    field = read_inscriptions(text)
    items = [asdict(mark) for mark in field.items]
    return {"text": text, "rest": field.rest, "items": [_with_lists(item) for item in items]}


def provenance(text: str) -> Answer:
    """A provenance as museums publish it: its steps, with parties, dates and notes.

    `events`, `notes`, `rest` and separators between them are the whole text; `remainder` are the
    words of a step that found no place. `earliest` and `latest` are of the whole time that the step
    tells of; null = open.

    >>> found = provenance("Ada Penhale, Hull, by 1902; sold to (Galerie Quill, Ghent), 1910")
    >>> for event in found["events"]:
    ...     print(event["kind"], [each["name"] for each in event["parties"]], event["edtf"])
    presence ['Ada Penhale'] [..1902]
    sale ['Galerie Quill'] 1910
    """
    return told_plainly(read_provenance(text))


def _with_lists(item: Answer) -> Answer:
    """Tuples as lists, as JSON has them."""
    return {key: list(told) if isinstance(told, tuple) else told for key, told in item.items()}


def answers(lines: Iterable[bytes], reader: Reader, *, jsonl: bool) -> Iterator[bytes]:
    """One JSON object for each line of a file, each with its line end.

    With `jsonl` every line is itself an object that holds a `text`; a line that is none is given
    back whole as `rest`.

    >>> [told] = answers([b"1903"], date, jsonl=False)
    >>> json.loads(told)["latest"]
    '1903-12-31'
    """
    for number, line in enumerate(lines):
        if not number:
            line = line.removeprefix(BOM_UTF8)
        typed = line.removesuffix(b"\n").removesuffix(b"\r").decode("utf-8", "replace")
        text = _text_of(typed) if jsonl else typed
        answer = _not_json(reader, typed) if text is None else reader(text)
        told = json.dumps(_with_lost_bytes(answer), ensure_ascii=False)
        # half a surrogate pair, which UTF-8 cannot hold, goes out as JSON's own escape
        yield told.encode("utf-8", "backslashreplace") + b"\n"


def _text_of(line: str) -> str | None:
    try:
        told = json.loads(line)
    except (ValueError, RecursionError):
        return None
    text = told.get("text") if isinstance(told, dict) else None
    return text if isinstance(text, str) else None


def _not_json(reader: Reader, line: str) -> Answer:
    """The keys of the kind, empty, around a line that held no text."""
    said = "this line is no JSON object with a text"
    answer = {**reader(""), "text": line, "rest": line}
    if "errors" in answer:
        answer["errors"] = [_error(0, "", said, 'write {"text": "..."}, one object a line')]
    if "why" in answer:
        answer["why"] = said
    return answer


def _with_lost_bytes(answer: Answer) -> Answer:
    """The answer for a label, with an error for each letter that was not UTF-8."""
    text = answer["text"]
    if NO_LETTER not in text or "errors" not in answer:
        return answer
    said = "what stood here is not UTF-8, or could not be read when the text was made"
    lost = [
        _error(at, letter, said, "save the file as UTF-8 and send it again")
        for at, letter in enumerate(text)
        if letter == NO_LETTER
    ]
    return {**answer, "errors": sorted((*answer["errors"], *lost), key=lambda each: each["at"])}
