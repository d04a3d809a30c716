"""Bringing back how a record stood, or taking one change back: each makes the record to be saved anew."""

from __future__ import annotations

from typing import cast

from catalogue.errors import BadData, NotOnFile
from catalogue.keeping import Kept, R, as_read, joined
from catalogue.ledger import Ledger, OpenChange
from catalogue.linked.documents import FORMAT, as_today
from catalogue.linked.text import parse, write
from catalogue.measure import Day
from catalogue.undoing import taken_back, values_within, whole
from catalogue.wording import field_word, has_word, kind_word


def saved_again(
    change: OpenChange, ledger: Ledger, read: Kept[R], revision: int, today: Day
) -> Kept[R]:
    """The record as it stood at a revision, saved within the change as the next one.

    Raises `NotOnFile` when that state was forgotten, `StaleRevision` when the same value was changed
    since the record was read.
    """
    record = _state(ledger, read, revision)
    if record == read.record:
        raise BadData("that is how it stands already", remedy="nothing was saved")
    then, now = ledger.read(read.document_id, revision), ledger.read(read.document_id)
    if now.revision == read.revision:
        # As it was written then, so that what dorse does not know comes back as well.
        body, current = then.body, now.revision
        if then.format != FORMAT:
            body = write(as_today(parse(body), then.format))
    else:
        record, body, current = joined(ledger, record, read, change, today)
    return Kept(record, change.save(read.document_id, body, expected=current), read.document_id)


def _state(ledger: Ledger, read: Kept[R], revision: int) -> R:
    if not 1 <= revision <= read.revision:
        raise NotOnFile(
            f"there is no state {revision} of it", remedy=f"it has 1 to {read.revision}"
        )
    return cast("R", as_read(ledger.read(read.document_id, revision)).record)


def without(ledger: Ledger, read: Kept[R], revision: int, value: str | None) -> R:
    """The record without what one revision changed, all of it or in one value.

    `value` is its number ("I2"), its id, or a field of the whole record ("medium").
    """
    if revision < 2:
        raise BadData(
            "with its first state a record begins: it cannot be taken back",
            remedy="set the whole record aside instead",
        )
    after = _state(ledger, read, revision)
    before = _state(ledger, read, revision - 1)
    only = None if value is None else _meant(before, after, value)
    try:
        record, left = taken_back(read.record, before, after, only)
    except BadData as refused:
        raise BadData(
            f"without that change the record would not hold together: {refused.args[0]}",
            remedy="take back the whole change, or the value it points at as well",
        ) from None
    if left:
        first = left[0]
        what = (
            field_word(first.kind, first.field) if first.field else kind_word(first.kind)
        ).label
        raise BadData(
            f"the {what} was changed again since that change",
            remedy="nothing was saved; change it by hand, or bring back a whole state",
        )
    if record == read.record:
        raise BadData("that is how it stands already", remedy="nothing was saved")
    return record


def _meant(before: object, after: object, value: str) -> set[str]:
    """The ids (or the field) that a person means by a number, an id or a field's name."""
    for record in (after, before):
        for key, each in values_within(record).items():
            if value in (key, getattr(each.value, "number", None)):
                return whole(after, key) | whole(before, key)
    if has_word(type(after).__name__, value):
        return {value}
    raise NotOnFile(
        f"that change did nothing to {value!r}",
        remedy="name a number (I2), an id, or a field such as medium",
    )
