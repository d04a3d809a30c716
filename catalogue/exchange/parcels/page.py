"""The first page of a parcel, for whoever opens it with a browser: what is in it, by what list it left.

Every sentence stands in vocab/parcel.toml, the shape in templates/parcel*.html. Each painting is
written when its photographs are ready; the page is joined at the end, in the order of the studio's numbers.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from catalogue import places
from catalogue.exchange.outgoing import Sender
from catalogue.exchange.parcels import condition, told
from catalogue.exchange.parcels.sizes import size_said
from catalogue.exchange.parcels.spool import Spool
from catalogue.exchange.withholding.profiles import profile
from catalogue.record import Inscription, Layer, Part, Photo, Work
from catalogue.terms import cautions, known, label

# what HTML cannot hold
_UNWRITABLE = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Shown:
    """A photograph on the page: the address of its copy and of a small one, and what it shows."""

    whole: str
    small: str
    caption: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A painting in the list at the head of the page."""

    anchor: str
    title: str
    maker: str
    number: str


def words() -> dict[str, Any]:
    """The sentences of the page."""
    said: dict[str, Any] = places.table("parcel.toml")["page"]
    return said


def entry_of(work: Work, sender: Sender) -> Entry:
    """The line of a painting in the list."""
    return Entry(f"work-{work.id}", work.title(), _maker(work, sender), work.number or "")


def section(
    work: Work,
    sender: Sender,
    pictures: Iterable[tuple[Photo, Shown]],
    files: Iterable[str],
    last: str = "",
) -> bytes:
    """One painting as HTML; `files` are the names of what belongs to it, `last` the last day it tells of."""
    shown = list(pictures)
    names = list(files)
    wanted = len(sender.pictures.of(work))
    view = {
        "anchor": f"work-{work.id}",
        "title": work.title(),
        "lead": _lead(shown),
        "facts": list(_facts(work, sender)),
        "inscriptions": [_inscription(work, each, names, sender) for each in work.inscriptions],
        "offer": list(told.offered(work, sender)),
        "chapters": [
            *told.chapters(work, sender, last),
            *condition.chapters(work, sender),
            *told.asked(work, sender),
        ],
        "notes": [note.text for note in work.notes],
        "pictures": [each for _photo, each in shown],
        "missing": wanted - len(shown),
        "unchosen": len(work.photos) - wanted,
        "cautions": [each.says for each in cautions(_named(work))[1:]],
        "files": list(_files(names)),
    }
    return b"".join(_written("parcel_work.html", work=view, words=words()))


def page(
    sections: Spool, entries: Mapping[str, Entry], sender: Sender, day: str | None, spool: Spool
) -> Iterator[bytes]:
    """The whole page in pieces; `entries` by the name under which the section of each lies in the spool."""
    said = places.table("parcel.toml")
    listed = [entries[key] for key in sorted(entries)]
    left_out = said["left_out"]
    yield from _written(
        "parcel.html",
        title=title(listed),
        from_whom=from_whom(sender),
        day=day,
        profile=sender.profile,
        says=profile(sender.profile).says,
        left_out=left_out.get(sender.profile) or left_out["other"],
        notices=said["notices"]["says"],
        entries=listed,
        sections=(Markup(b"".join(sections.read(key)).decode()) for key in sorted(entries)),
        folders=list(_folders(spool)),
        words=words(),
        style=Markup((places.folder("templates") / "parcel.css").read_text("utf-8")),
    )


def title(entries: list[Entry]) -> str:
    """What the parcel is called: its painting, or how many there are."""
    if not entries:
        return str(words()["title_none"])
    if len(entries) > 1:
        return str(words()["title_many"]).replace("{count}", str(len(entries)))
    only = entries[0]
    return ", ".join(
        filter(None, (words()["title_one"].replace("{title}", only.title), only.maker))
    )


def from_whom(sender: Sender) -> str:
    """Who sends, in words."""
    if sender.studio:
        return str(words()["sent_by"]).replace("{studio}", sender.studio)
    return str(words()["sent"])


def caption(photo: Photo) -> str:
    """What a photograph shows.

    >>> caption(Photo(file_name="a.jpg", number="P2", view="view/whole", face="face/back"))
    'P2: back, whole'
    """
    keys = [photo.face, photo.view, photo.light, photo.stage]
    said = [label(each) for each in keys if each and each != "light/normal"]
    if photo.mirrored:
        said.append("mirrored")
    return ": ".join(filter(None, (photo.number or "", ", ".join(said))))


def _lead(pictures: list[tuple[Photo, Shown]]) -> Shown | None:
    """The picture beside the facts: the whole front in normal light, or what comes nearest to it."""
    whole = [each for each in pictures if each[0].view == "view/whole"]
    ranked = sorted(
        whole,
        key=lambda each: (each[0].face != "face/front", each[0].light != "light/normal"),
    )
    return ranked[0][1] if ranked else None


def _facts(work: Work, sender: Sender) -> Iterator[tuple[str, str]]:
    said = words()
    medium = work.medium or ", ".join(map(label, work.materials))
    titles = (f"{each.text} ({label(each.kind)})" for each in work.titles)
    for name, value in (
        (said["maker"], _maker(work, sender)),
        (said["attribution"], told.attributed(work, sender)),
        (said["title"], "\n".join(titles)),
        (said["made"], work.made.written if work.made else ""),
        (said["medium"], medium),
        (said["sizes"], "\n".join(map(size_said, work.sizes))),
        (said["number"], work.number or ""),
    ):
        if value:
            yield name, value


def _maker(work: Work, sender: Sender) -> str:
    said = work.attribution()
    if said is None:
        return ""
    named = sender.labels(said.artist)[1] if said.artist else said.written or ""
    plain = said.qualifier in ("qualifier/by", "qualifier/unknown") and named
    return named if plain else " ".join(filter(None, (label(said.qualifier), named)))


def _inscription(
    work: Work, inscription: Inscription, files: list[str], sender: Sender
) -> dict[str, Any]:
    transcript = inscription.preferred()
    reading = transcript.reading() if transcript else None
    latest = inscription.latest()
    parts: list[Part | Layer] = [*work.parts, *work.layers]
    borne = [each for each in parts if each.id == inscription.part]
    where = [label(inscription.face), *(label(each.kind) for each in borne)]
    about = [*map(label, inscription.techniques), *map(_language, inscription.languages)]
    about += reading.drawn() if reading else ()
    if latest:
        about.append(label(latest.state))
    about += filter(None, (told.hand(inscription, sender),))
    heading = [label(inscription.kind), *where]
    notes = (*inscription.notes, *(transcript.notes if transcript else ()))
    return {
        "heading": " ".join(
            filter(None, (inscription.number, ", ".join(dict.fromkeys(heading))))
        ),
        "reading": reading.diplomatic().strip("\n") if reading else "",
        "about": "; ".join(about),
        "notes": [note.text for note in notes],
        "file": next((each for each in files if each.endswith(f"-{inscription.id}.xml")), None),
    }


def _language(tag: str) -> str:
    key = f"language/{tag}"
    return label(key) if known(key) else tag


def _named(work: Work) -> Iterator[str]:
    """The materials of a painting and what ails it, for what is to be minded in handling it."""
    yield from work.materials
    bearing: list[Part | Layer | Inscription] = [*work.parts, *work.layers, *work.inscriptions]
    for each in bearing:
        yield from each.materials
    for finding in work.findings:
        yield finding.kind


def _files(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """What the files of one painting are called, and their addresses; only the first of a kind."""
    called = words()["file_names"]
    seen: set[str] = set()
    for name in names:
        kind = name.partition("/")[0]
        if kind == "pictures" and not name.endswith(".jsonld"):
            continue
        if kind in called and kind not in seen:
            seen.add(kind)
            yield called[kind], name


def _folders(spool: Spool) -> Iterator[tuple[str, str, int]]:
    """Each folder, or file at the top, with what it is and how many files it holds."""
    says = places.table("parcel.toml")["files"]
    count = Counter(name.partition("/")[0] for name in spool.held if "/" in name)
    for name in says:
        if name in count:
            yield f"{name}/", says[name], count[name]
        elif "." in name:
            yield name, says[name], 0


def _written(template: str, **given: Any) -> Iterator[bytes]:
    for piece in _pages().get_template(template).generate(**given):
        yield _UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", piece).encode()


@cache
def _pages() -> Environment:
    return Environment(
        loader=FileSystemLoader(Path(places.folder("templates"))),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
