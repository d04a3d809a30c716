"""Every page of the desk, timed on the server over a large studio with the sample works in it.

The desk is walked as a person does it, from link to link, a few pages of every kind. Each page is
asked for once before it is timed, for nobody opens the desk anew for every page; what the first
asking takes is told beside it, and what this thread took of its own, for a machine is seldom quiet. `DORSE_BENCH_SIZES=10000` chooses how many works lie around;
`DORSE_BENCH_STUDIO` names a folder in which the studio is kept for the next run.
"""

from __future__ import annotations

import os
import random
import re
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from seeded import records
from test_bench import told

from catalogue.demo import draw, take_in
from catalogue.desk import create_app
from catalogue.desk.serving import get_ready
from catalogue.linked.documents import FORMAT, to_jsonld
from catalogue.linked.text import write
from catalogue.measure import Day
from catalogue.places import folder as folder_named
from catalogue.record import Item, Job, Party, PartyName, Record, Work, new_id
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]
OF_EACH_KIND = 25
IN_THE_HOUSE = 120
MARKUP = (
    "@p HOLLIS & Tr_ewin\n@p Dealers in Pict[ures]\n@h(pencil) N^o^ 412 [---] £35\nc. 1887 <Gallery=Galery>\n"
    * 3
)


@pytest.mark.parametrize("count", SIZES)
def test_pages(count, tmp_path):
    with laid_out(
        Path(os.environ.get("DORSE_BENCH_STUDIO") or tmp_path / "studio"), count
    ) as studio:
        get_ready(studio, Event())  # as the server does while the first page is looked at
        client = create_app(studio).test_client()
        entered(client, studio)
        first, again = walked(client)
        for endpoint in sorted(again, key=lambda each: -highest(again[each])[0]):
            told(
                f"page {endpoint}, {count} works ({len(again[endpoint])} asked)",
                f"p95 {in_words(highest(again[endpoint]))}",
                f"at first up to {in_words(max(first[endpoint]))}",
            )
        everything = [each for taken in again.values() for each in taken]
        told(
            f"all pages, {count} works ({len(everything)})",
            f"p95 {in_words(highest(everything))}",
        )
        told(
            f"typed markup rendered, {count} works",
            f"p95 {in_words(highest(list(renderings(client))))}",
        )


@contextmanager
def laid_out(where: Path, count: int) -> Iterator[Studio]:
    """The large studio: made now, or the one that an earlier run left in `where`."""
    if (where / "ledger.sqlite").exists():
        with Studio.open(where) as studio:
            yield studio
        return
    with Studio.init(where) as studio:
        filled(studio, count)
        pictures = where / "drawn-photos"
        draw(folder_named("sample_records"), pictures, lambda done, of: None)
        take_in(studio, folder_named("sample_records"), pictures)
        yield studio


Taken = tuple[float, float]
"""Milliseconds on the clock, and of this thread's own: what it takes on a machine with nobody else."""


def asked(ask: Callable[[], Any]) -> tuple[Any, Taken]:
    start, own = time.perf_counter(), time.thread_time()
    answer = ask()
    return answer, ((time.perf_counter() - start) * 1000, (time.thread_time() - own) * 1000)


def highest(taken: list[Taken]) -> Taken:
    """The 95th percentile of each, nearest rank."""
    at = max(0, -(-len(taken) * 95 // 100) - 1)
    wall, own = (sorted(each[which] for each in taken)[at] for which in (0, 1))
    return wall, own


def in_words(taken: Taken) -> str:
    return f"{taken[0]:.0f} ms ({taken[1]:.0f} of its own)"


def filled(studio: Studio, count: int) -> None:
    """`count` works, a client and a commission for every fifth, the last of them still in the house."""
    chance = random.Random(11)
    works: list[Record] = []
    with studio.ledger.change(
        who="bench", why="a studio of some years", written_in=FORMAT
    ) as change:
        for record in records(count):
            change.save(record.document, write(to_jsonld(record)), expected=None)
            if isinstance(record, Work):
                works.append(record)
        for number, work in enumerate(works[::5]):
            client = Party(
                kind="person",
                names=(
                    PartyName(text=f"Client {number} {chance.randrange(999)}", preferred=True),
                ),
                roles=("role/client",),
                visibility="visibility/studio",
            )
            here = number < IN_THE_HOUSE
            job = Job(
                number=f"J2020-{number:04d}",
                client=client.document,
                reason="reason/treatment",
                items=(
                    Item(
                        id=new_id(),
                        work=work.document,
                        came=Day(2026, 1, 5),
                        due=Day(2026, 12, 1),
                        left=None if here else Day(2026, 3, 1),
                        next_step="look at the back" if here else None,
                    ),
                ),
            )
            for each in (client, job):
                change.save(each.document, write(to_jsonld(each)), expected=None)
    studio.catch_up()


def entered(client, studio: Studio) -> None:
    member = studio.welcome("Nell Quince")
    client.post("/who", data={"csrf_token": token(client), "who": member.id})


def token(client) -> str:
    text = client.get("/who").text
    return text.partition('name="csrf-token" content="')[2].partition('"')[0]


def walked(client) -> tuple[dict[str, list[Taken]], dict[str, list[Taken]]]:
    """What every page takes that is reached from the bench, by endpoint: the first asking, and the next."""
    adapter = client.application.url_map.bind("")
    first: dict[str, list[Taken]] = defaultdict(list)
    again: dict[str, list[Taken]] = defaultdict(list)
    waiting, seen = ["/", "/find?q=canal", "/find?q=label", "/kept", "/take-in"], set()
    while waiting:
        address = waiting.pop(0)
        try:
            endpoint, _ = adapter.match(address.partition("?")[0], method="GET")
        except Exception:  # noqa: BLE001 - an address of another kind: not the desk's
            continue
        if address in seen or endpoint in ("static", "pictures.picture", "pictures.part"):
            continue
        seen.add(address)
        if len(again[endpoint]) >= OF_EACH_KIND:
            continue
        for taken in (first, again):
            answer, milliseconds = asked(lambda: client.get(address))  # noqa: B023 - asked at once
            taken[endpoint].append(milliseconds)
            assert answer.status_code < 500, address
            text = answer.text if answer.mimetype == "text/html" else ""
            answer.close()
        if text:
            waiting += links(text)
    return first, {name: taken for name, taken in again.items() if taken}


def links(page: str) -> Iterator[str]:
    """The addresses that a page leads to, without their fragments."""
    for found in re.findall(r'<a [^>]*href="(/[^"#]*)', page):
        yield unescape(found)


def renderings(client) -> Iterator[Taken]:
    signed = token(client)
    for length in range(10, len(MARKUP)):
        form = {"csrf_token": signed, "markup": MARKUP[:length]}
        answer, taken = asked(lambda: client.post("/render", data=form))  # noqa: B023 - asked at once
        assert answer.status_code == 200
        yield taken
