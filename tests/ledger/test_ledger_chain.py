"""The recipe in chain.py, followed with nothing but SQL, JSON and SHA-256."""

from __future__ import annotations

import hashlib
import json

from hypothesis import given
from hypothesis import strategies as st
from ledger_samples import a_new_folder, a_passing_ledger, furnish, raw

from catalogue.ledger import Entry, Ledger
from catalogue.ledger.chain import NOTHING_BEFORE, digest_of_change

FIXTURES = (
    a_passing_ledger,
    a_new_folder,
)

KEYS = ("act", "document", "revision", "digest", "source", "target", "scope", "number")


def by_hand(value: object) -> str:
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def test_the_chain_can_be_worked_out_by_hand(folder):
    with Ledger.create(folder, zone="Europe/Vienna") as ledger:
        furnish(ledger)
        last = ledger.last()
    before = "0" * 64
    with raw(folder) as database:
        names = ("seq", "at", "zone", "who", "why", "format", "before", "digest")
        changes = database.execute(f"SELECT {', '.join(names)} FROM changes ORDER BY seq")
        for row in changes.fetchall():
            change = dict(zip(names, row, strict=True))
            digest = change.pop("digest")
            rows = database.execute(
                f"SELECT {', '.join(KEYS)} FROM entries WHERE seq = ? ORDER BY place",
                (change["seq"],),
            )
            change["entries"] = [
                {
                    key: value
                    for key, value in zip(KEYS, entry, strict=True)
                    if value is not None
                }
                for entry in rows
            ]
            assert change["before"] == before
            assert by_hand(change) == digest
            before = digest
        assert (change["seq"], before) == last


def test_the_digests_of_texts_and_files_can_be_worked_out_by_hand(folder):
    with Ledger.create(folder) as ledger:
        furnish(ledger)
    with raw(folder) as database:
        texts = database.execute(
            "SELECT digest, salt, body FROM entries JOIN bodies USING (seq, place)"
        ).fetchall()
        assert len(texts) == 4
        for digest, salt, body in texts:
            assert hashlib.sha256(salt + body).hexdigest() == digest
        names = ("media_type", "name", "sha256", "size")
        ((digest, salt, *facts),) = database.execute(
            "SELECT entries.digest, salt, media_type, name, sha256, size"
            " FROM entries JOIN files USING (seq, place)"
        )
        told = dict(zip(names, facts, strict=True))
        text = json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        assert hashlib.sha256(salt + text.encode()).hexdigest() == digest
        content = (folder / "files" / told["sha256"][:2] / told["sha256"]).read_bytes()
        assert hashlib.sha256(content).hexdigest() == told["sha256"]
        assert len(content) == told["size"]


def test_the_same_text_has_another_digest_each_time(ledger):
    with ledger.change(who="N. Feld", why="copies") as change:
        change.save("work/a", b"{}", expected=None)
        change.save("work/b", b"{}", expected=None)
    (kept,) = ledger.changes()
    assert kept.entries[0].digest != kept.entries[1].digest


words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)
tellings = st.fixed_dictionaries(
    {
        "seq": st.integers(1, 99),
        "at": words,
        "zone": words,
        "who": words,
        "why": words,
        "written_in": st.integers(0, 9),
        "before": words,
        "entries": st.lists(
            st.builds(Entry, act=st.just("save"), document=words, revision=st.integers(1, 9)),
            min_size=1,
            max_size=3,
        ),
    }
)


@given(tellings, tellings)
def test_two_changes_have_one_digest_only_if_they_are_one(one, other):
    assert (digest_of_change(**one) == digest_of_change(**other)) == (one == other)


@given(tellings)
def test_the_recipe_holds_for_every_text(told):
    told["before"] = NOTHING_BEFORE
    entries = [
        {"act": e.act, "document": e.document, "revision": e.revision} for e in told["entries"]
    ]
    whole = {**told, "format": told["written_in"], "entries": entries}
    del whole["written_in"]
    assert digest_of_change(**told) == by_hand(whole)
