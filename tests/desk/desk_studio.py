"""A small studio for the desk: two works with drawn photographs, their people and a job."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image, ImageDraw

from catalogue.measure import Day
from catalogue.record import (
    Contact,
    Inscription,
    Item,
    Job,
    Note,
    Part,
    Party,
    PartyName,
    Photo,
    Reach,
    Reference,
    Region,
    Sighting,
    Size,
    Title,
    Transcript,
    Work,
)
from catalogue.studio import Studio

WIDTH, HEIGHT = 600, 450
PRIVATE = "Ring only after six; the dog bites."
HOSTILE = '<script>alert("ink")</script>'


def picture(
    paint: str = "#8a744c", size: tuple[int, int] = (WIDTH, HEIGHT), kind: str = "JPEG"
) -> bytes:
    """A photograph of a back: wood around canvas, and a label glued askew."""
    image = Image.new("RGB", size, paint)
    draw = ImageDraw.Draw(image)
    draw.rectangle((60, 60, size[0] - 60, size[1] - 60), fill="#d9c9a4")
    draw.polygon(
        ((150, 120), (400, 160), (388, 240), (138, 200)), fill="#fbf6e6", outline="#333"
    )
    file = io.BytesIO()
    image.save(file, kind)
    return file.getvalue()


@dataclass(frozen=True)
class Desk:
    """An open studio with a client of its desk, and what is in it."""

    studio: Studio
    app: object
    client: object
    low_water: str
    ferry: str
    label: str
    artist: str
    job: str
    reference: str
    member: str

    def work(self, uuid: str) -> Work:
        return self.studio.read(f"work/{uuid}").record

    def revision(self, uuid: str) -> int:
        return self.studio.read(f"work/{uuid}").revision

    def begin(self) -> str:
        """Choose who is working; the token that forms must carry."""
        token = self.token("/who")
        self.client.post("/who", data={"csrf_token": token, "who": self.member})
        return self.token("/who")

    def token(self, page: str) -> str:
        text = self.client.get(page).text
        return text.partition('name="csrf-token" content="')[2].partition('"')[0]

    def post(self, path: str, **fields: object):
        """A form as a browser sends it, with its token."""
        return self.client.post(path, data={"csrf_token": self.token("/who"), **fields})


def filled(studio: Studio) -> dict[str, str]:
    """Two works, their people, a job and somebody else's record; their UUIDs."""
    member = studio.welcome("Nell Quince")
    pictures = {
        face: (
            studio.taken_in(content, name=f"{face}.jpg", face=f"face/{face}"),
            content,
        )
        for face, content in (("front", picture("#44607a")), ("back", picture()))
    }
    kept = studio.new_work(
        title="Low Water", artist="Circle of Ada Penhale", made="c. 1887", who="Nell Quince",
        photos=pictures.values(),
    )  # fmt: skip
    back = next(each for each in kept.record.photos if each.face == "face/back")
    bar = Part(kind="part/stretcher", original=True)
    label = Inscription(
        kind="inscription/dealer-label",
        face="face/stretcher-bar",
        part=bar.id,
        regions=(Region(photo=back.id, corners=((150, 120), (400, 160), (388, 240), (138, 200))),),
        transcripts=(
            Transcript(
                markup="Hollis & Tr_ewin\nDealers in Pict[ures]\n[---]",
                by=member.document, on=Day(2026, 3, 2), light="light/raking", preferred=True,
                certainty="certainty/probable",
            ),
        ),
        sightings=(Sighting(state="state/partly-covered", on=Day(2026, 3, 2), covered_by="paper tape"),),
    )  # fmt: skip
    full = replace(
        kept.record,
        titles=(*kept.record.titles, Title(text=HOSTILE, kind="title/former")),
        sizes=(Size(what="size/support", height_mm=500, width_mm=610.5),),
        parts=(bar,),
        inscriptions=(label,),
        notes=(
            Note(text="Bought from a cellar in Porthmellow."),
            Note(text=f"{HOSTILE} in a note", visibility="visibility/restricted"),
        ),
    )
    studio.save(full, who="Nell Quince", read=kept)
    ferry = studio.new_work(title="The Ferry at Dawn", made="1905", who="Nell Quince")
    client = Party(
        kind="person", names=(PartyName(text="Mrs Quillan", preferred=True),), roles=("role/client",),
        contact=Contact(reaches=(Reach(medium="reach/telephone", text="555 0101"),), notes=(Note(kind="note/private", text=PRIVATE),)),
        visibility="visibility/studio",
    )  # fmt: skip
    studio.save(client, who="Nell Quince")
    job = studio.save(
        Job(
            client=client.document, reason="reason/treatment",
            items=(
                Item(work=kept.document_id, came=Day(2026, 1, 5), due=Day(2026, 2, 1), next_step="lift the tape"),
                Item(work=ferry.document_id, came=Day(2026, 1, 5), due=Day(2199, 1, 1)),
            ),
        ),
        who="Nell Quince",
    )  # fmt: skip
    reference = studio.save(
        Reference(
            address="https://elsewhere.example/place/7",
            types=("Place",),
            labels=("Porthmellow",),
        ),
        who="Nell Quince",
    )
    return {
        "low_water": kept.record.id,
        "ferry": ferry.record.id,
        "label": label.id,
        "artist": kept.record.attributions[0].artist.partition("/")[2],
        "job": job.record.id,
        "reference": reference.record.id,
        "member": member.id,
    }


def photo_named(work: Work, face: str) -> Photo:
    return next(each for each in work.photos if each.face == face)


@contextmanager
def served(folder: Path, port: int = 0) -> Iterator[str]:
    """The desk of a studio, served by the command in a process of its own; what it says."""
    command = [
        sys.executable,
        "-u",
        "-m",
        "catalogue.command",
        "--studio",
        str(folder),
        "serve",
    ]
    with subprocess.Popen(
        [*command, "--port", str(port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as server:
        assert server.stdout is not None
        try:
            yield server.stdout.readline()
        finally:
            server.terminate()
