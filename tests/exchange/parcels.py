"""Studios with photographs, and what is in the parcels that they send."""

from __future__ import annotations

import hashlib
import io
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

from photos.photo_files import MAKER, exif, profile, saved, scene

from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Contact,
    Inscription,
    Item,
    Job,
    Note,
    Paper,
    Party,
    PartyName,
    Reach,
    Region,
    Release,
    Size,
    Title,
    Transcript,
    Work,
)
from catalogue.record.common import digest_of
from catalogue.studio import Studio

WHO = "A. Conservator"
SERIAL = "SN-4471-0093"
PRIVATE_NAME = "IMG kept by Mrs Trelawney 51.5N.jpg"
LETTER = b"%PDF-1.4 a letter from the owner, as it came\n"


def camera_picture(orientation: int = 6, width: int = 240, height: int = 160) -> bytes:
    """A JPEG as a camera writes it: turned, with GPS, a serial number, a thumbnail, a remark."""
    written = exif(orientation)
    written.get_ifd(34665)[42033] = SERIAL
    with io.BytesIO() as file:
        scene(width, height).save(
            file,
            "JPEG",
            exif=written.tobytes(),
            icc_profile=profile(),
            comment=b"a private note",
        )
        return file.getvalue()


def house(notes_released: bool = False) -> Studio:
    """A studio with two works, three photographs, a paper, a commission."""
    studio = Studio.open("memory:")
    studio.set_letterhead(["The Bench at Harrow Lane", "7 Harrow Lane", "info@bench.example"])
    artist = Party(
        kind="person",
        names=(PartyName(text="Ada Penhale", preferred=True),),
        began=read_date("1861"),
        ended=read_date("1934"),
    )
    client = Party(
        kind="person",
        names=(PartyName(text="Eustacia Trelawney", preferred=True),),
        roles=("role/client",),
        visibility="visibility/studio",
        contact=Contact(reaches=(Reach(medium="reach/telephone", text="01736 555 0147"),)),
    )
    pictures = [
        studio.taken_in(
            camera_picture(), name=PRIVATE_NAME, view="view/whole", face="face/back"
        ),
        studio.taken_in(
            saved(scene(300, 200), "PNG"),
            name="detail.png",
            view="view/detail",
            face="face/back",
        ),
    ]
    work = Work(
        titles=(Title(text="Low Water", kind="title/inscribed", preferred=True),),
        attributions=(Attribution(artist=artist.document, preferred=True),),
        made=read_date("c. 1896"),
        medium="oil on canvas",
        materials=("material/canvas", "material/lead-white"),
        sizes=(Size(what="size/support", height_mm=457.0, width_mm=610.0),),
        notes=(_note("Bought as a wreck; see the file.", released=False),)
        + (
            (_note("The label was uncovered in 2026.", released=True),)
            if notes_released
            else ()
        ),
    )
    for record in (artist, client):
        studio.save(record, who=WHO)
    studio.save(work, who=WHO)
    kept = studio.add_photos(
        studio.work(work.document),
        [(pictures[0], camera_picture()), (pictures[1], saved(scene(300, 200), "PNG"))],
        who=WHO,
    )
    label = Inscription(
        kind="inscription/dealer-label",
        face="face/back",
        regions=(
            Region(photo=pictures[0].id, corners=((20, 30), (90, 30), (90, 70), (20, 70))),
        ),
        transcripts=(
            Transcript(markup="Harrow & Sons\nNo. 41[..]", on=Day(2026, 3, 5), preferred=True),
        ),
    )
    kept = studio.save(replace(kept.record, inscriptions=(label,)), who=WHO, read=kept)
    studio.add_paper(
        kept,
        Paper(kind="paper/letter", title="Letter of the owner", file_name="letter.pdf"),
        LETTER,
        who=WHO,
    )
    studio.save(
        Work(titles=(Title(text="A Stile", kind="title/descriptive", preferred=True),)), who=WHO
    )
    studio.save(
        Job(
            client=client.document, reason="reason/treatment", items=(Item(work=work.document),)
        ),
        who=WHO,
    )
    return studio


def _note(text: str, *, released: bool) -> Note:
    release = Release(by=WHO, at="2026-03-05T10:00:00Z", digest=digest_of(text))
    return Note(kind="note/description", text=text, released=release if released else None)


def with_pictures(studio: Studio) -> Work:
    """The work that has photographs."""
    (work,) = (each.record for each in studio.all(Work) if each.record.photos)
    return work


def sent(studio: Studio, profile: str, out: Path, works: list[str] | None = None) -> Path:
    """The parcel that a studio sends."""
    studio.export("parcel", profile, out, works, who=WHO)
    (parcel,) = out.iterdir()
    return parcel


def contents(parcel: Path) -> dict[str, bytes]:
    """What is in a parcel, by the name within its bag."""
    with zipfile.ZipFile(parcel) as packed:
        return {each.partition("/")[2]: packed.read(each) for each in packed.namelist()}


def in_folder(parcel: Path, into: Path) -> Path:
    """The bag of a parcel, unpacked."""
    with zipfile.ZipFile(parcel) as packed:
        packed.extractall(into)
    (bag,) = into.iterdir()
    return bag


def zipped(into: Path, files: dict[str, bytes], **how: object) -> Path:
    """A zip of these files."""
    with zipfile.ZipFile(into, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return into


class Sparse(io.FileIO):
    """A file in which runs of zeros take no room on the disk."""

    def write(self, content: Any) -> int:
        held = bytes(content)
        if held and not held.strip(b"\0"):
            self.seek(len(held), io.SEEK_CUR)
            return len(held)
        return super().write(held)


def with_a_large_file(into: Path, files: dict[str, bytes], name: str, size: int) -> str:
    """A parcel of these files (named as in its bag) and of a large one of zeros; the digest of that one.

    In names and files, ZEROS stands for its digest.
    """
    pieces = [bytes(1 << 20)] * (size >> 20)
    taken = hashlib.sha256()
    for each in pieces:
        taken.update(each)
    digest = taken.hexdigest()
    held = {each: content.replace(b"ZEROS", digest.encode()) for each, content in files.items()}
    name = name.replace("ZEROS", digest)
    payload = [each for each in held if each.startswith("data/")]
    listed = [f"{hashlib.sha256(held[each]).hexdigest()}  {each}\n" for each in payload]
    with Sparse(into, "w+") as file, zipfile.ZipFile(file, "w") as packed:
        packed.writestr("parcel/bagit.txt", held["bagit.txt"])
        # without Payload-Oxum, which would have to be counted anew
        facts = held["bag-info.txt"].partition(b"Payload-Oxum")[0]
        packed.writestr("parcel/bag-info.txt", facts)
        packed.writestr("parcel/manifest-sha256.txt", "".join([*listed, f"{digest}  {name}\n"]))
        for each in payload:
            packed.writestr(f"parcel/{each}", held[each])
        with packed.open(f"parcel/{name}", "w", force_zip64=True) as entry:
            for piece in pieces:
                entry.write(piece)
    return digest


__all__ = [
    "LETTER",
    "MAKER",
    "PRIVATE_NAME",
    "SERIAL",
    "WHO",
    "Sparse",
    "camera_picture",
    "contents",
    "house",
    "in_folder",
    "sent",
    "with_a_large_file",
    "with_pictures",
    "zipped",
]
