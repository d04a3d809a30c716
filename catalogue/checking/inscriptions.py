"""What stands on the object: is it recorded well enough to be covered, moved or lost?"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.record import Inscription, Work

LACKS = (
    # the check, the field that is empty, what is lacking in a sentence
    ("inscription.reading", "transcripts", "a reading"),
    ("inscription.photo", "regions", "a photograph"),
    ("inscription.place", "place", "a place"),
)
"""What must be on record before an inscription is covered or taken away."""


def lacking(inscription: Inscription) -> tuple[str, ...]:
    """What is not on record of an inscription and could not be recorded once it is gone.

    >>> lacking(Inscription(kind="inscription/signature", face="face/front"))
    ('a reading', 'a photograph', 'a place')
    """
    return tuple(what for _, field, what in LACKS if not getattr(inscription, field))


def inscriptions(work: Work, places: Places) -> Iterator[Remark]:
    """What nobody has read, measured, photographed, looked at or tested; what is lost is left alone."""
    tested = {each.inscription for each in work.tests if each.kind in words("sensitivity")}
    for each in work.inscriptions:
        state = each.latest()
        if state is not None and state.state in words("lost"):
            continue
        for key, field, _ in LACKS:
            if not getattr(each, field):
                yield check(key).remark(places.of(each, field), each.id)
        if state is None:
            yield check("inscription.state").remark(places.of(each, "sightings"), each.id)
        if each.id not in tested:
            yield check("inscription.sensitivity").remark(places.of(each), each.id)
