"""A work as a catalogue enters it: maker, in which sense; title, from where; size; what is written on it.

"Signed" and "dated" stand only where somebody believes the hand to be the maker's and says so in the
record; otherwise the work "bears" a signature. Every qualifier that is used is explained.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Facts,
    Heading,
    Paragraph,
    Pictures,
    Transcription,
)
from catalogue.documents.seen import ninths, photo_said, released
from catalogue.documents.sizes import in_cm_and_inches
from catalogue.documents.words import capital, day_said, joined, labels, told, words
from catalogue.record import Attribution, Inscription, Photo, Size, Work
from catalogue.terms import concept, label, within

BELIEVED = ("certainty/certain", "certainty/probable")
MARKS = ("inscription/label", "inscription/stamp", "inscription/seal", "inscription/stencil",
         "inscription/brand", "inscription/plaque", "inscription/barcode",
         "inscription/punch-mark", "inscription/watermark")  # fmt: skip
"""What is stuck on, stamped or printed: told after what is written by hand."""
MADE_BY_HAND = {
    "inscription/signature": "signature",
    "inscription/monogram": "monogram",
    "inscription/date": "date",
}


def headline(given: Given) -> Iterator[Block]:
    """Who made it, what it is called, from when, of what, how large."""
    work, said = given.work, words("sale")
    yield Facts(
        told(
            (
                (said["maker"], _maker(given) or said["unknown_maker"]),
                (said["attribution"], _attributions(given)),
                (said["title"], _titles(work)),
                (said["made"], work.made.written if work.made else said["undated"]),
                (said["medium"], _medium(work)),
                (said["size"], "\n".join(map(_sized, work.sizes)) or said["unmeasured"]),
                (said["number"], work.number or ""),
            )
        )
    )


def _maker(given: Given) -> str:
    """The maker with the sense in which the name is meant, and the years of a life."""
    shown = given.work.attribution()
    if shown is None:
        return ""
    name = given.name_of(shown.artist)
    artist = given.party(shown.artist) if shown.artist else None
    years = (
        [each.written if each else "" for each in (artist.began, artist.ended)]
        if artist
        else []
    )
    life = f"({years[0]}–{years[1]})" if any(years) else ""
    plain = shown.qualifier == "qualifier/by"
    return joined(("" if plain else capital(label(shown.qualifier)), name, life), " ")


def _attributions(given: Given) -> str:
    """Who says so, and when, and what else has been said."""
    said, shown = words("sale"), given.work.attribution()
    lines = []
    for each in given.work.attributions:
        who = joined((given.name_of(each.said_by), day_said(each.on)))
        if each is shown:
            lines.append(said["said_by"].format(who=who) if who else "")
        else:
            what = _attribution(given, each)
            lines.append(said["also"].format(what=what) + (f" ({who})" if who else ""))
    return joined(lines, "\n")


def _attribution(given: Given, each: Attribution) -> str:
    if each.written:
        return each.written
    return joined((label(each.qualifier), given.name_of(each.artist)), " ")


def _titles(work: Work) -> str:
    """Every title with where it comes from: on the back, in tradition, given by whoever described it."""
    return "\n".join(f"{each.text} ({label(each.kind)})" for each in work.titles) or str(
        words("sale")["untitled"]
    )


def _medium(work: Work) -> str:
    return capital(work.medium or labels(work.materials)) or str(words("sale")["no_medium"])


def _sized(size: Size) -> str:
    return f"{capital(label(size.what))}: {in_cm_and_inches(size)}"


# --- what is written on it -------------------------------------------------------------------------


def written(given: Given) -> Iterator[Block]:
    """What was written by hand, each in one line with its words: side, place, exact text."""
    by_hand = [each for each in given.work.inscriptions if not within(each.kind, *MARKS)]
    # Signatures, monograms and dates first; the rest keeps its order.
    by_hand.sort(key=lambda each: not _is_claim(each))
    if by_hand:
        said, where = words("sale"), ninths(given.work)
        yield Heading(said["written"])
        for each in by_hand:
            yield from _line(given, each, where.get(each.id, label(each.face)))
        if any(_is_claim(each) and not is_makers(given.work, each) for each in by_hand):
            yield Paragraph(said["bears"], "small")


def _line(given: Given, each: Inscription, where: str) -> Iterator[Block]:
    said = words("sale")
    place = said["where"].format(verb=verb(given.work, each), where=where)
    made = said["made_with"].format(what=labels(each.techniques)) if each.techniques else ""
    how = joined((place, made, _hand(given, each), each.number or ""))
    yield Transcription(_text(each), how)
    for text in released(each.notes):
        yield Paragraph(text, "small")


def verb(work: Work, each: Inscription) -> str:
    """Signed, dated or inscribed; bears a signature where nobody holds the hand to be the maker's.

    >>> verb(Work(), Inscription(kind="inscription/signature", face="face/front"))
    'Bears signature'
    >>> verb(Work(), Inscription(kind="inscription/dedication", face="face/back"))
    'Inscribed'
    """
    verbs: dict[str, str] = words("sale")["verbs"]
    kind = MADE_BY_HAND.get(each.kind)
    if kind is None:
        return verbs["inscribed"]
    return verbs[kind if is_makers(work, each) else f"bears_{kind}"]


def _is_claim(each: Inscription) -> bool:
    return each.kind in MADE_BY_HAND


def is_makers(work: Work, each: Inscription) -> bool:
    """Whether somebody believes the hand to be that of the work's maker, with reasons."""
    shown = work.attribution()
    return (
        shown is not None
        and shown.artist is not None
        and each.written_by == shown.artist
        and each.written_by_certainty in BELIEVED
    )


def _hand(given: Given, each: Inscription) -> str:
    """Whose hand it is held to be, and how firmly: an opinion never loses its doubt."""
    name = given.name_of(each.written_by)
    if not name:
        return ""
    sure = label(each.written_by_certainty) if each.written_by_certainty else ""
    return str(words("sale")["hand"].format(name=name, sure=f", {sure}" if sure else ""))


def _text(each: Inscription) -> str:
    shown = each.preferred()
    return shown.reading().diplomatic() if shown else str(words("standing")["unread"])


def labels_and_stamps(given: Given) -> Iterator[Block]:
    """Labels, stamps and seals letter by letter, each with the pictures that were taken of it."""
    work, said = given.work, words("sale")
    marked = [each for each in work.inscriptions if within(each.kind, *MARKS)]
    if not marked:
        return
    where = ninths(work)
    yield Heading(said["labels"])
    for each in marked:
        what = capital(joined((label(each.kind), where.get(each.id, label(each.face)))))
        latest = each.latest()
        state = label(latest.state) if latest else ""
        yield Transcription(_text(each), joined((what, state, each.number or "")))
        pictures = (given.shown(photo, photo_said(photo)) for photo in _of(work, each))
        there = tuple(each for each in pictures if each)
        if there:
            yield Pictures(there, small=True)


def _of(work: Work, each: Inscription) -> list[Photo]:
    """The photographs that were taken of one mark."""
    return [photo for photo in work.photos if each.id in photo.about and not photo.mirrored]


# --- what the words mean ---------------------------------------------------------------------------


def glossary(given: Given) -> Iterator[Block]:
    """Every qualifier that stands on the sheet, and what this studio means by it."""
    used = dict.fromkeys(each.qualifier for each in given.work.attributions)
    rows = tuple((capital(label(each)), concept(each).note) for each in used)
    if rows:
        said = words("sale")
        yield Heading(said["glossary"])
        yield Paragraph(said["glossary_says"], "small")
        yield Facts(told(rows))
