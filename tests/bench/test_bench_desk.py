"""Every page of the desk, timed on the server over a large studio with the sample works in it.

The desk is walked as a person does it, from link to link, a few pages of every kind. Each page is
asked for once before it is timed, for nobody opens the desk anew for every page; what the first
asking takes is told beside it. `DORSE_BENCH_SIZES=10000` chooses how many works lie around;
`DORSE_BENCH_STUDIO` names a folder in which the studio is kept for the next run.
"""

from __future__ import annotations

import os
import random
import re
import statistics
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path

import pytest
from seeded import records
from test_bench import told

from catalogue.demo import draw, take_in
from catalogue.desk import create_app
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
        client = create_app(studio).test_client()
        entered(client, studio)
        first, again = walked(client)
        for endpoint in sorted(again, key=lambda each: -highest(again[each])):
            told(
                f"page {endpoint}, {count} works ({len(again[endpoint])} asked)",
                f"median {statistics.median(again[endpoint]):.0f} ms, p95 {highest(again[endpoint]):.0f} ms",
                f"at first up to {max(first[endpoint]):.0f} ms",
            )
        everything = [each for taken in again.values() for each in taken]
        told(
            f"all pages, {count} works ({len(everything)})", f"p95 {highest(everything):.0f} ms"
        )
        rendered = list(renderings(client))
        told(f"typed markup rendered, {count} works", f"p95 {highest(rendered):.1f} ms")


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


def highest(taken: list[float]) -> float:
    """The 95th percentile, nearest rank."""
    ordered = sorted(taken)
    return ordered[max(0, -(-len(ordered) * 95 // 100) - 1)]


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


def walked(client) -> tuple[dict[str, list[float]], dict[str, list[float]]]:
    """Milliseconds of every page reached from the bench, by endpoint: the first asking, and the next."""
    adapter = client.application.url_map.bind("")
    first: dict[str, list[float]] = defaultdict(list)
    again: dict[str, list[float]] = defaultdict(list)
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
            start = time.perf_counter()
            answer = client.get(address)
            taken[endpoint].append((time.perf_counter() - start) * 1000)
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


def renderings(client) -> Iterator[float]:
    signed = token(client)
    for length in range(10, len(MARKUP)):
        start = time.perf_counter()
        answer = client.post("/render", data={"csrf_token": signed, "markup": MARKUP[:length]})
        yield (time.perf_counter() - start) * 1000
        assert answer.status_code == 200
