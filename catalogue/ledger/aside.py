"""What stands outside the chain: drafts and settings; and what a studio's zone may be."""

from __future__ import annotations

import os
import uuid
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, available_timezones

from sqlalchemy import Connection, delete, select, text
from sqlalchemy.dialects.sqlite import insert as insert_or_update

from catalogue.errors import BadData, BadSetting
from catalogue.ledger.tables import drafts, settings
from catalogue.ledger.values import Draft


def text_of(what: str, said: str) -> str:
    """What somebody said, if it can be kept as text. Raises `BadData` when it is empty."""
    if not isinstance(said, str) or not said.strip():
        raise BadData(f"{what} is missing", remedy="nothing was saved; say it and save again")
    try:
        said.encode("utf-8")
    except UnicodeEncodeError as fault:
        raise BadData(f"{what} has signs that are no text: {said!r}") from fault
    return said


def now() -> str:
    """The time in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


# --- drafts -----------------------------------------------------------------------------------


def drafts_of(
    connection: Connection, who: str | None, document: str | None = None
) -> list[Draft]:
    """What is half typed, by one person or by all, for one document or any, the oldest first."""
    query = select(drafts).order_by(drafts.c.at, text("drafts.rowid"))
    if who is not None:
        query = query.where(drafts.c.who == who)
    if document is not None:
        query = query.where(drafts.c.document == document)
    return [
        Draft(row.id, row.who, row.document, row.place, row.text, row.at)
        for row in connection.execute(query)
    ]


def draft(connection: Connection, draft_id: str) -> Draft | None:
    """One draft by its id; None when it is not there, or no longer."""
    row = connection.execute(select(drafts).where(drafts.c.id == draft_id)).first()
    return Draft(row.id, row.who, row.document, row.place, row.text, row.at) if row else None


def keep_draft(
    connection: Connection,
    who: str,
    document: str,
    place: str,
    typed: str,
    draft_id: str | None,
) -> Draft:
    """Keep something half typed, over the draft `draft_id` if one is named."""
    kept = Draft(draft_id or str(uuid.uuid4()), who, document, place, typed, now())
    told = {column.name: getattr(kept, column.name) for column in drafts.c}
    upsert = insert_or_update(drafts).values(told)
    connection.execute(upsert.on_conflict_do_update(index_elements=["id"], set_=told))
    return kept


def drop_draft(connection: Connection, draft_id: str) -> None:
    """Throw a draft away, if it is still there."""
    connection.execute(delete(drafts).where(drafts.c.id == draft_id))


# --- settings ---------------------------------------------------------------------------------


def setting(connection: Connection, name: str) -> str | None:
    """The value of a setting, None while nobody set it."""
    query = select(settings.c.value).where(settings.c.name == name)
    found: str | None = connection.execute(query).scalar()
    return found


def all_settings(connection: Connection, under: str = "") -> dict[str, str]:
    """Every setting that somebody set and whose name begins so, by name."""
    query = select(settings).where(settings.c.name >= under).order_by(settings.c.name)
    if under:
        query = query.where(settings.c.name < under[:-1] + chr(ord(under[-1]) + 1))
    return {row.name: row.value for row in connection.execute(query)}


def add_setting(connection: Connection, name: str, value: str) -> bool:
    """Set a setting that nobody set before; whether it was so."""
    added = insert_or_update(settings).values(name=name, value=value).on_conflict_do_nothing()
    return bool(connection.execute(added).rowcount)


def set_setting(connection: Connection, name: str, value: str) -> None:
    """Set a setting. Raises `BadSetting` for a zone or a format that there is not."""
    if name == "zone":
        known_zone(value)
    if name == "format" and not (value.isascii() and value.isdigit()):
        raise BadSetting(f"the format {value!r} is not a whole number")
    told = {"name": name, "value": value}
    upsert = insert_or_update(settings).values(told)
    connection.execute(upsert.on_conflict_do_update(index_elements=["name"], set_=told))


def unset(connection: Connection, name: str) -> None:
    """Let a setting be as if nobody had set it."""
    connection.execute(delete(settings).where(settings.c.name == name))


def known_zone(zone: str) -> str:
    """The zone, if this machine knows it. Raises `BadSetting`."""
    try:
        ZoneInfo(zone)
    except (LookupError, ValueError, OSError) as fault:
        raise BadSetting(
            f"{zone!r} is not a time zone that this machine knows",
            remedy="such as Europe/Vienna",
        ) from fault
    return zone


def system_zone() -> str:
    """The IANA name of the zone this machine is set to, UTC when it does not tell."""
    told = [os.environ.get("TZ", "").removeprefix(":")]
    with suppress(OSError):
        told.append(Path("/etc/timezone").read_text("utf-8").strip())
    with suppress(OSError):
        told.append(str(Path("/etc/localtime").resolve()).partition("zoneinfo/")[2])
    known = available_timezones()
    return next((zone for zone in told if zone in known), "UTC")
