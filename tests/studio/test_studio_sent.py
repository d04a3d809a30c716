"""An export arrives whole or not at all, is refused where it holds a secret, and is put down."""

from __future__ import annotations

import errno
import json
from dataclasses import replace
from pathlib import Path

import pytest
from made_records import ARTIST, WHO, full_work

from catalogue.errors import BadSetting, CannotSave, MayNotLeave
from catalogue.exchange import formats
from catalogue.exchange.outgoing import by_itself
from catalogue.exchange.staging import Staging
from catalogue.record import (
    Contact,
    Inscription,
    Item,
    Job,
    Offer,
    Party,
    PartyName,
    Reach,
    Title,
    Transcript,
    Work,
)
from catalogue.studio import Studio

HARROW = Party(
    kind="group",
    names=(PartyName(text="Harrow & Sons", preferred=True), PartyName(text="Harrow's")),
    contact=Contact(reaches=(Reach(medium="reach/telephone", text="01326 555 0142"),)),
)


def inscribed(markup, title="The Weir"):
    return Work(
        titles=(Title(text=title, kind="title/given"),),
        inscriptions=(
            Inscription(
                kind="inscription/dealer-label",
                face="face/back",
                transcripts=(Transcript(markup=markup, preferred=True),),
            ),
        ),
    )


def files(folder: Path):
    return sorted(each.relative_to(folder).as_posix() for each in folder.rglob("*"))


@pytest.fixture
def sold(empty_studio):
    """A work with a dealer's label, and the dealer who is the client as well."""
    work = inscribed("HARROW & SONS / 14 Mole Street")
    job = Job(
        reason="reason/treatment", client=HARROW.document, items=(Item(work=work.document),)
    )
    for record in (ARTIST, HARROW, work, job):
        empty_studio.save(record, who=WHO)
    return empty_studio


# --- refused, or allowed once -----------------------------------------------------------------------


@pytest.mark.parametrize("name", ["public", "sale", "loan"])
def test_a_clients_name_on_a_label_is_shown_and_nothing_leaves(sold, tmp_path, name):
    with pytest.raises(MayNotLeave) as refused:
        sold.export("linked-art", name, tmp_path / "out")
    assert refused.value.allowable == ("Harrow & Sons",)
    said = str(refused.value)
    assert "/content" in said
    assert "HARROW & SONS" in said
    assert "J2" in said, "the commission that it stands in is named"
    assert not (tmp_path / "out").exists()
    assert files(tmp_path) == []
    assert sold.exports() == ()


def test_a_name_in_evidence_is_allowed_once_with_a_reason_that_is_kept(sold, tmp_path):
    allow = {"harrow & sons": "it is printed on the label"}
    sent = sold.export("linked-art", "public", tmp_path / "out", allow=allow, who=WHO)
    assert sent.allowed == allow
    assert sold.exports()[0].allowed == allow
    with pytest.raises(MayNotLeave):
        sold.export("linked-art", "public", tmp_path / "again")


def test_an_allowance_needs_a_reason(sold, tmp_path):
    with pytest.raises(BadSetting, match="needs a name and a reason"):
        sold.export("linked-art", "public", tmp_path, allow={"Harrow & Sons": " "})


def test_elsewhere_a_name_cannot_be_allowed(sold, tmp_path):
    sold.save(inscribed("1903", title="From Harrow & Sons"), who=WHO)
    with pytest.raises(MayNotLeave) as refused:
        sold.export("linked-art", "public", tmp_path, allow={"Harrow & Sons": "a reason"})
    assert refused.value.allowable == ()


def test_a_rehearsal_is_not_refused_and_not_put_down(sold, tmp_path):
    made = sold.rehearse("linked-art", "public", tmp_path / "out")
    assert made.refused.allowable == ("Harrow & Sons",)
    assert made.documents == 1
    assert sold.exports() == ()


def test_the_whole_holds_everything_and_is_not_searched(sold, tmp_path):
    assert sold.export("full-graph", "full", tmp_path).documents == 4


def test_what_any_format_writes_beside_the_record_is_found(sold, tmp_path, monkeypatch):
    """C22 of the trade sheet: a client's telephone in a file fails the export, wherever it came from."""
    leaky = by_itself(lambda leaving, _: [(f"{leaving.stem}.txt", b"ring +44 1326 5550142")])
    monkeypatch.setitem(formats.FORMATS, "leaky", formats.Format("x", leaky))
    with pytest.raises(MayNotLeave, match="a telephone or another long number, 01326 555 0142"):
        sold.export("leaky", "public", tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_under_sale_an_offer_leaves_without_net_and_reserve(empty_studio, tmp_path):
    work = inscribed("1903")
    offer = Offer(
        work=work.document, status="offer-status/for-sale", asked=24500, currency="currency/euro",
        net=19000, reserve=18000,
    )  # fmt: skip
    job = Job(reason="reason/treatment", items=(Item(work=work.document),), offers=(offer,))
    for record in (work, job):
        empty_studio.save(record, who=WHO)
    for name, leaves in (("sale", True), ("public", False)):
        out = tmp_path / name
        empty_studio.export("schema-org", name, out)
        sent = "".join(path.read_text("utf-8") for path in out.iterdir())
        assert ("24500" in sent) is leaves
        assert "19000" not in sent
        assert "18000" not in sent


# --- whole, or not at all ---------------------------------------------------------------------------


class _Stop(BaseException):
    """What a key pressed in the middle is."""


@pytest.mark.parametrize(
    "fault", [OSError(errno.ENOSPC, "No space left on device"), _Stop()], ids=["full", "key"]
)
@pytest.mark.parametrize("there", [True, False])
def test_what_stops_an_export_leaves_the_folder_as_it_was(
    studio, tmp_path, monkeypatch, fault, there
):
    out = tmp_path / "out"
    if there:
        out.mkdir()
        (out / "letter.txt").write_text("x")
    before = files(tmp_path)

    def put(self, name, content, so_far=[]):  # noqa: B006
        so_far.append(name)
        if len(so_far) > 1:
            raise fault
        return real(self, name, content)

    real = Staging.put
    monkeypatch.setattr(Staging, "put", put)
    with pytest.raises((CannotSave, _Stop)):
        studio.export("linked-art", "public", out)
    assert files(tmp_path) == before
    assert studio.exports() == ()


def test_what_lay_in_the_folder_stays_and_is_told(studio, tmp_path):
    out = tmp_path / "out"
    (out / "old").mkdir(parents=True)
    (out / "old" / "letter.txt").write_text("x")
    first = studio.export("full-graph", "public", out)
    assert first.others == 1
    again = studio.export("full-graph", "public", out)
    assert (again.others, again.digest) == (1, first.digest)
    assert (out / "old" / "letter.txt").read_text() == "x"
    assert not [name for name in files(out) if name.startswith(".dorse")]


def test_the_digest_is_over_names_and_contents(studio, tmp_path):
    import hashlib

    sent = studio.export("full-graph", "public", tmp_path / "out")
    lines = [
        f"{path.name}\t{hashlib.sha256(path.read_bytes()).hexdigest()}\n"
        for path in sorted((tmp_path / "out").iterdir())
    ]
    assert sent.digest == hashlib.sha256("".join(lines).encode()).hexdigest()


def test_what_stayed_home_is_counted_and_told_one_by_one(studio, tmp_path):
    told = []
    sent = studio.export(
        "full-graph", "public", tmp_path, listen=lambda where, each: told.append((where, each))
    )
    assert sent.home == len(told) == sum(sent.counts.values())
    assert tuple(told[:5]) == sent.stayed_home[:5]


# --- the list of what was sent (US-33, R10) ---------------------------------------------------------


def test_every_export_is_put_down_with_who_for_whom_and_why(studio, tmp_path):
    sent = studio.export(
        "linked-art", "public", tmp_path / "a", ["2026-041"], who=WHO, recipient="Mole Rooms",
        reason="asked for by letter",
    )  # fmt: skip
    studio.export("full-graph", "full", tmp_path / "b", who=WHO)
    one, two = studio.exports()
    assert (one.who, one.recipient, one.reason) == (
        studio.who(WHO), "Mole Rooms", "asked for by letter",
    )  # fmt: skip
    assert (one.profile, one.format, one.digest) == ("public", "linked-art", sent.digest)
    assert one.works == (studio.work("2026-041").document_id,)
    assert (two.everything, two.before) == (True, one.own_digest)
    assert not studio.verify().faults


def test_where_nobody_said_who_it_is_whoever_sits_at_the_machine(studio, tmp_path):
    studio.export("full-graph", "public", tmp_path)
    assert studio.exports()[0].who


@pytest.mark.parametrize("harm", ["changed", "taken out", "unreadable"])
def test_a_list_that_was_altered_is_told(studio, tmp_path, harm):
    for number in range(3):
        studio.export("full-graph", "public", tmp_path / str(number))
    name = "sent/0000000002"
    line = studio.ledger.setting(name)
    if harm == "taken out":
        studio.ledger.unset(name)
    else:
        changed = line.replace('"public"', '"owner"') if harm == "changed" else "{"
        studio.ledger.set_setting(name, changed)
    assert [each.what for each in studio.verify().faults][:1] == ["export"]


def test_the_list_travels_with_a_backup_and_leaves_in_no_export(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        studio.save(replace(full_work(), attributions=()), who=WHO)
        studio.export("full-graph", "public", tmp_path / "out", recipient="Unheard-of Rooms")
        studio.export("full-graph", "full", tmp_path / "whole")
        studio.backup(tmp_path / "copy")
        kept = studio.exports()
    with Studio.restore(tmp_path / "copy", tmp_path / "again") as again:
        assert again.exports() == kept
    for path in (tmp_path / "whole").iterdir():
        assert "Unheard-of Rooms" not in path.read_text("utf-8")


def test_two_who_send_at_once_are_both_put_down(tmp_path):
    from concurrent.futures import ThreadPoolExecutor

    Studio.init(tmp_path / "studio").close()

    def send(number):
        with Studio.open(tmp_path / "studio") as studio:
            studio.export("full-graph", "public", tmp_path / str(number))

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(send, range(8)))
    with Studio.open(tmp_path / "studio") as studio:
        assert [each.number for each in studio.exports()] == list(range(1, 9))
        assert not studio.verify().faults


def test_a_search_says_which_works(studio, tmp_path):
    ids = studio.works_found("low water")
    assert ids == (studio.work("2026-041").document_id,)
    assert studio.export("full-graph", "public", tmp_path, ids).documents >= 1
    assert json.loads(next(tmp_path.glob("work-*.json")).read_text("utf-8"))["id"]
