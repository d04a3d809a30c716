"""How fast works leave as LIDO and schema.org and come in again, beside the same records written as JSON.

`DORSE_BENCH_SIZES=1000,10000` says of how many works; figures are ratios within one run.
"""

from __future__ import annotations

import json
import os
import resource
import time
from collections.abc import Callable

import pytest
from redacting import redact
from seeded import records

from catalogue.exchange.incoming import Arrival, Receiver
from catalogue.exchange.lido import writing as lido
from catalogue.exchange.lido.reading import arrivals
from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.schema_org import writing as schema_org
from catalogue.exchange.withholding.redaction import profiles as every_profile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write as write_json
from catalogue.record import Work

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]
SENDER = Sender(None, lambda _id: ("Person", "Ada Penhale"))


def _rate(count: int, work: Callable[[], object]) -> float:
    """How many a second of the processor's time: others may be at work on the machine."""
    began = time.process_time()
    work()
    return count / (time.process_time() - began)


def _stored(count: int):
    for record in records(count):
        if isinstance(record, Work):
            yield record.document, write_json(to_jsonld(record))


def _most_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


@pytest.mark.parametrize("count", SIZES)
def test_out_and_in(count, tmp_path, capsys):
    stored = list(_stored(count))
    before = _most_mb()

    def out(module):
        def run():
            for document_id, body in stored:
                for name, content in module.write(
                    Leaving(document_id, document_id[5:], body), SENDER
                ):
                    (tmp_path / name).write_bytes(content)

        return run

    def out_public():
        allowed = every_profile()["public"]
        for document_id, body in stored:
            leaving = Leaving(document_id, document_id[5:], body)
            held, _ = redact(leaving.document, document_id, allowed, lambda _id: False)
            for name, content in lido.write(
                Leaving(document_id, document_id[5:], held), SENDER
            ):
                (tmp_path / name).write_bytes(content)

    def as_json():
        for document_id, body in stored:
            node = json.loads(body)
            (tmp_path / f"{document_id[5:]}.json").write_text(json.dumps(node))

    rates = {
        "json.loads, json.dumps and write": _rate(count, as_json),
        "LIDO": _rate(count, out(lido)),
        "LIDO, list `public`": _rate(count, out_public),
        "schema.org, two files": _rate(count, out(schema_org)),
    }
    whole = tmp_path / "all.xml"
    with whole.open("w") as file:
        file.write('<lido:lidoWrap xmlns:lido="http://www.lido-schema.org">\n')
        for document_id, _ in stored:
            alone = (tmp_path / f"{document_id[5:]}.lido.xml").read_text()
            file.write(alone.partition("?>")[2])
        file.write("</lido:lidoWrap>\n")
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    came = 0

    def back():
        nonlocal came
        came = sum(
            isinstance(each, Arrival) for each in arrivals(whole, Receiver(scratch=scratch))
        )

    rates["LIDO, in"] = _rate(count, back)
    base = rates["json.loads, json.dumps and write"]
    with capsys.disabled():
        print(
            f"\n{count} works, a wrap of {whole.stat().st_size / 1e6:.0f} MB, {came} documents in"
        )
        for name, rate in rates.items():
            print(f"  {name}: {rate:.0f} works/s, {rate / base:.2f} of JSON")
        print(f"  memory {before:.0f} -> {_most_mb():.0f} MB (what is written is held as well)")
    assert came >= count
