"""Sending records out: which of them, what must not stand in the files, and the line that says who sent what.

The rooms below know how a record is redacted, written and searched; here they are given what this
studio keeps.
"""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from catalogue import sent
from catalogue.errors import BadSetting
from catalogue.exchange.formats import FORMATS, format_named
from catalogue.exchange.parcels.pictures import Pictures
from catalogue.exchange.scanning.guarded import Guarded, Leaving
from catalogue.exchange.scanning.judging import checked
from catalogue.exchange.sending import Exported, Sending
from catalogue.exchange.withholding import offers
from catalogue.exchange.withholding.at_home import AtHome, Listener
from catalogue.exchange.withholding.profiles import offered
from catalogue.exchange.withholding.redaction import Profile, profile
from catalogue.keeping import as_read
from catalogue.ledger import Ledger, Progress
from catalogue.measure import Day
from catalogue.photos import Outline
from catalogue.record import Job, Offer, Paper, Photo
from catalogue.secrets_kept import SecretsKept
from catalogue.setting_aside import refuse_withdrawn, with_present_ids


@dataclass(frozen=True, slots=True)
class Order:
    """What is asked for: a format, a profile, a folder; `works` are ids, None for every work.

    `who` sends it to `recipient` for a `reason`; `allow` are the names that may leave this once though the
    last scan finds them, each with the reason; `pictures` of which photographs copies are wanted.
    """

    format_name: str
    profile_name: str
    out: Path
    works: tuple[str, ...] | None = None
    who: str = ""
    recipient: str = ""
    reason: str = ""
    allow: Mapping[str, str] = field(default_factory=dict)
    pictures: Pictures = field(default_factory=Pictures)


@dataclass
class Exporting:
    """One export of a studio. `picture` and `original` are the files of photographs and papers.

    A picture is asked for with the areas that are to be painted over and the longer side of its copy.
    """

    ledger: Ledger
    base: str | None
    studio: str
    changed: str | None
    today: Day
    name_of: Callable[[str], str]
    picture: Callable[[Photo, tuple[Outline, ...], int | None], Path | None]
    original: Callable[[Photo | Paper], Path | None]
    secrets: SecretsKept

    def export(
        self, order: Order, progress: Progress | None = None, listen: Listener | None = None
    ) -> Exported:
        """Write what is asked for and put it down in the list of what was sent."""
        return self._made(order, progress, listen, rehearsal=False)

    def rehearse(self, order: Order, listen: Listener | None = None) -> Exported:
        """The same without a line in the list, and never refused: `refused` says why it would be."""
        return self._made(order, None, listen, rehearsal=True)

    def _made(
        self,
        order: Order,
        progress: Progress | None,
        listen: Listener | None,
        *,
        rehearsal: bool,
    ) -> Exported:
        chosen, allowed = format_named(order.format_name), profile(order.profile_name)
        if allowed.papers_only:
            raise BadSetting(
                f"the list {allowed.name!r} is for papers, which take it of themselves",
                remedy=f"print the paper, or export under one of: {', '.join(offered())}",
            )
        allow = checked(order.allow)
        if allowed.needs_reason and not order.reason.strip() and not rehearsal:
            raise BadSetting(
                f"nothing leaves under {allowed.name} without a reason",
                remedy="say why it is sent, and on whose word",
            )
        if order.pictures.said and not chosen.pictures:
            with_pictures = [name for name, each in sorted(FORMATS.items()) if each.pictures]
            raise BadSetting(
                f"no photographs leave as {order.format_name}, so none can be chosen",
                remedy=f"choose the format {' or '.join(with_pictures)}, or say nothing of pictures",
            )
        for each in order.works or ():
            refuse_withdrawn(self.ledger, each, self.name_of)
        wanted, how_many = self._wanted(order.works, allowed)
        sending = Sending(
            self._stored,
            chosen,
            allowed,
            self.base,
            lambda photo, covered: self.picture(photo, covered, order.pictures.longest_px),
            original=self.original,
            studio=self.studio,
            changed=self.changed,
            today=self.today,
            offer=lambda work: self._offer(work, allowed),
            guarded=self._guarded(order, allowed),
            allow=allow,
            called=self._called,
            log=lambda made: None if rehearsal else self._note(order, made),
            rehearsal=rehearsal,
            pictures=order.pictures,
            home=AtHome(listen),
        )
        return sending.into(order.out, wanted, how_many, progress)

    # --- which documents ----------------------------------------------------------------------

    @cached_property
    def _present(self) -> Callable[[bytes], bytes]:
        return with_present_ids(self.ledger)

    def _stored(self, document_id: str) -> bytes:
        return self._present(self.ledger.read(document_id).body)

    def _wanted(
        self, works: tuple[str, ...] | None, allowed: Profile
    ) -> tuple[Iterable[tuple[str, bytes]], int]:
        if works is not None:
            return ((each, self._stored(each)) for each in works), len(works)
        kinds: list[str | None] = [None]
        if not allowed.everything:
            kinds = [each for each in ("work", "reference") if each in allowed.documents]
        how_many = sum(1 for kind in kinds for _ in self.ledger.heads(kind))
        return (
            (each.document, self._present(each.body))
            for kind in kinds
            for each in self.ledger.bodies(kind)
        ), how_many

    # --- what must not leave, and what of a commission may ------------------------------------

    def _guarded(self, order: Order, allowed: Profile) -> Guarded:
        if allowed.everything:
            return Guarded()
        return self.secrets.guarded(
            Leaving(
                profile=allowed.name,
                fields=allowed.fields,
                visibility=allowed.visibility,
                chosen=None if order.works is None else frozenset(order.works),
                rules=allowed.rules,
                today=self.today,
            ),
            [
                f"{each}/"
                for each in (self.ledger.folder, Path.home())
                if each is not None and len(each.parts) > 2
            ],
        )

    @cached_property
    def _offers(self) -> dict[str, Offer]:
        """The offers that stand, by work; most commissions have none and are not read."""
        found: list[Job] = [
            as_read(each).record
            for each in self.ledger.bodies("job")
            if b'"offers"' in each.body
        ]
        return offers.newest(found)

    def _offer(self, work: str, allowed: Profile) -> Offer | None:
        if "Offer.work" not in allowed.fields:
            return None
        found = self._offers.get(work)
        return offers.told(found, allowed) if found else None

    # --- the list of what was sent ------------------------------------------------------------

    def _called(self, document_id: str) -> str:
        """What the person who sends knows a record by; "this computer" is what it says."""
        return self.name_of(document_id) if "/" in document_id else document_id

    def _note(self, order: Order, made: Exported) -> None:
        sent.note(
            self.ledger,
            who=order.who or _login(),
            profile=order.profile_name,
            format=order.format_name,
            works=order.works or (),
            documents=made.documents,
            files=made.files,
            recipient=order.recipient.strip(),
            reason=order.reason.strip(),
            allowed=dict(made.allowed),
            digest=made.digest,
        )


def _login() -> str:
    """Who sits at this machine, where nobody said who is at work."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "unknown"
