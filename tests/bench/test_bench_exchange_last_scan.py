"""What the last scan costs: gathering what stays at home, searching finished files, whole exports with it.

Ratios within one run: the machine is never quiet.
"""

from __future__ import annotations

import json
import os
import random
import time

import pytest
from seeded import _word, records

from catalogue.exchange.scanning.guarded import Guarded, Leaving, gathered
from catalogue.exchange.scanning.last_scan import LastScan
from catalogue.exchange.scanning.secrets_in import in_commission, in_party
from catalogue.exchange.withholding.redaction import profile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.record import Contact, Item, Job, Offer, Party, PartyName, Reach, Work
from catalogue.studio import Studio

pytestmark = pytest.mark.bench

SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]


def commissions(works, chance):
    """A client with a telephone and an address, and a job with sums and a rack, for each work."""
    for number, work in enumerate(works):
        name = f"{_word(chance).title()} {_word(chance).title()}ley"
        client = Party(
            kind="person", visibility="visibility/studio", names=(PartyName(text=name),),
            contact=Contact(reaches=(
                Reach(medium="reach/telephone", text=f"01{chance.randint(10**8, 10**9 - 1)}"),
                Reach(medium="reach/e-mail", text=f"{_word(chance)}{number}@post.example"),
                Reach(medium="reach/post", text=f"{chance.randint(1, 99)} {_word(chance)} Street, Mole"),
            )),
        )  # fmt: skip
        offer = Offer(
            work=work.document, status="offer-status/for-sale", asked=chance.randint(200, 90_000),
            reserve=chance.randint(10_000, 90_000), currency="currency/euro",
        )  # fmt: skip
        yield client
        yield Job(
            reason="reason/treatment", client=client.document, offers=(offer,),
            items=(Item(work=work.document, kept_at=f"rack {number % 90} shelf {number % 7}"),),
        )  # fmt: skip


def bodies(made, kind):
    return [(each.document, write(to_jsonld(each))) for each in made if isinstance(each, kind)]


@pytest.mark.parametrize("size", SIZES)
def test_gathering_and_searching(size, capsys):
    made = list(records(size))
    works = [each for each in made if isinstance(each, Work)]
    private = list(commissions(works, random.Random(11)))
    jobs, parties = bodies(private, Job), bodies([*made, *private], Party)
    sale = profile("sale")
    begun = time.process_time()
    guarded = gathered(
        [(of, in_commission(of, body)) for of, body in jobs],
        [(of, in_party(of, body)) for of, body in parties],
        Leaving("sale", sale.fields, sale.visibility, None, rules=sale.rules),
    )
    gathering = time.process_time() - begun
    nodes = [to_jsonld(each) for each in works[:1000]]
    texts = [write(each) for each in nodes]
    begun = time.process_time()
    for each in nodes:
        json.dumps(each, ensure_ascii=False).encode()
    dumping = time.process_time() - begun
    figures = {}
    for what, sought in (("nothing", Guarded()), ("all", guarded)):
        scan = LastScan(sought)
        begun = time.process_time()
        for number, text in enumerate(texts):
            scan.look(f"work-{number}.json", text)
        figures[what] = time.process_time() - begun
    with capsys.disabled():
        print(
            f"\n{size} jobs: {len(guarded)} secrets gathered in {gathering:.2f} s; searching "
            f"{figures['all'] / len(texts) * 1e3:.2f} ms a file of {sum(map(len, texts)) // len(texts)} "
            f"bytes (json.dumps {dumping / len(texts) * 1e3:.2f} ms), {scan.count} hits"
        )
    assert scan.count < len(texts)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ["linked-art", "full-graph"])
def test_a_whole_export_with_the_scan_and_without(size, name, tmp_path, capsys, monkeypatch):
    with Studio.open("memory:") as studio:
        made = list(records(size))
        works = [each for each in made if isinstance(each, Work)]
        with studio.ledger.change(who="bench", why="bench") as change:
            for each in [*made, *commissions(works, random.Random(11))]:
                change.save(each.document, write(to_jsonld(each)), expected=None)
        studio.export(name, "sale", tmp_path / "warm", [works[0].document])
        seconds = {}
        for what in ("with", "without"):
            if what == "without":
                monkeypatch.setattr(LastScan, "look", lambda *_: None)
            begun = time.process_time()
            studio.export(name, "sale", tmp_path / what, allow={})
            seconds[what] = time.process_time() - begun
    with capsys.disabled():
        print(
            f"\n{name}, sale, {size} works and jobs: {size / seconds['with']:.0f} works/s with the scan, "
            f"{size / seconds['without']:.0f} without"
        )
