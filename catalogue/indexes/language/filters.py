"""The filters of a form as the same wish that typing them gives."""

from __future__ import annotations

from catalogue.indexes.language.fields import facts
from catalogue.indexes.language.joining import NOTHING, all_of
from catalogue.indexes.language.patterns import run, word
from catalogue.indexes.language.pieces import without_quotes
from catalogue.indexes.language.understanding import understand
from catalogue.indexes.language.values import values_of
from catalogue.indexes.question import Query
from catalogue.indexes.wish import AllOf, Fact, InTime, Name, Wish
from catalogue.measure import Day


def as_wish(query: Query, today: Day) -> Wish:
    """A query, words and filters together, as one wish.

    >>> as_wish(Query(words="cubitt", kind="dealer label"), Day(2026, 3, 1)).parts[1]
    Fact(field='kind', values=('inscription/dealer-label',))
    """
    parts = [understand(query.words, today).wish]
    if run(query.artist) != NOTHING:
        parts.append(Name(without_quotes(query.artist), "artist"))
    if query.kind.strip():
        keys = values_of(facts()["kind"], query.kind).keys
        parts.append(Fact("kind", keys or (query.kind.strip(),)))
    parts.append(AllOf(tuple(word(chunk, ("place",)) for chunk in query.place.split())))
    if query.dated:
        parts.append(InTime("made", query.earliest, query.latest, query.certainly))
    return all_of(parts)
