"""What a reading would bring, asked for while one types, over many works; half of them with printed forms.

`DORSE_BENCH_SIZES=10000` chooses how many works lie around.
"""

from __future__ import annotations

import os
import random
import time

import pytest
from seeded import records
from test_bench import told
from test_bench_desk import Taken, asked, entered, highest, in_words, token

from catalogue.desk import create_app
from catalogue.linked.documents import FORMAT, to_jsonld
from catalogue.linked.text import write
from catalogue.record import Inscription, Transcript, Work
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]
NAMES = ("Harkwick", "Tolmen", "Pelzer", "Ansgar", "Quellin", "Merrow", "Stavely", "Brack")
STREETS = ("Tanner Street", "Duke Row", "Gilt Lane", "Canal Wharf", "Bruton Place")


def form(chance: random.Random) -> str:
    """A printed form, filled in: one of forty."""
    name, street = chance.choice(NAMES), chance.choice(STREETS)
    return (
        f"@p {name} & Son | Fine Art Dealers | {len(name) + len(street)} {street}, London, W.1 | "
        f"No @h {chance.randint(1, 4000)} @p Date @h {chance.randint(1, 28)} May {chance.randint(1919, 1939)} "
        f"| @p Tel. Mayfair {4000 + len(street)} | Price @h {chance.randint(3, 90)} gns"
    )


@pytest.mark.parametrize("count", SIZES)
def test_told_while_one_types(count, tmp_path):
    chance = random.Random(3)
    with Studio.init(tmp_path / "studio") as studio:
        with studio.ledger.change(who="bench", written_in=FORMAT, why="seeded") as change:
            for record in records(count // 2):
                change.save(record.document, write(to_jsonld(record)), expected=None)
            for _ in range(count - count // 2):
                label = Inscription(
                    kind="inscription/dealer-label", face="face/back",
                    transcripts=(Transcript(markup=form(chance), preferred=True),),
                )  # fmt: skip
                work = Work(inscriptions=(label,))
                change.save(work.document, write(to_jsonld(work)), expected=None)
        client = create_app(studio).test_client()
        entered(client, studio)
        signed = token(client)
        uuid = studio.ledger.latest("work", 1)[0].document.partition("/")[2]

        def told_of(markup: str) -> tuple[str, Taken]:
            fields = {"markup": markup, "kind": "inscription/dealer-label", "face": "face/back"}
            form = {"csrf_token": signed, **fields}
            answer, taken = asked(lambda: client.post(f"/work/{uuid}/foretell", data=form))
            return answer.text, taken

        piece, first = told_of(form(chance))
        begun = time.perf_counter()
        while "data-again" in piece:
            time.sleep(0.2)
            piece, _ = told_of(form(chance))
        laid_out = time.perf_counter() - begun
        texts = [form(chance) for _ in range(60)]
        taken = [
            told_of(text[: len(text) * (n % 4 + 1) // 4])[1] for n, text in enumerate(texts)
        ]
        assert "like it" in told_of(texts[0])[0]
        told(
            f"what a reading would bring, {count} works",
            f"p95 {in_words(highest(taken))}",
            f"first {in_words(first)}, labels laid out in the background {laid_out:.1f} s",
        )
