from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress

import pytest
from ledger_samples import WHO, WHY, a_new_folder, a_passing_ledger, entered, furnish

from catalogue.errors import BadData, BadSetting, Busy, NoStudio, NotOnFile, StaleRevision
from catalogue.ledger import Ledger

FIXTURES = (
    a_passing_ledger,
    a_new_folder,
)


def test_what_is_saved_is_read_back_byte_for_byte(ledger):
    body = '{"title": "Mühle  am Bach",\n "n": 1.50}'.encode()
    with ledger.change(who=WHO, why=WHY, written_in=3) as change:
        assert change.save("work/mill", body, expected=None) == 1
    kept = ledger.read("work/mill")
    assert (kept.body, kept.revision, kept.seq, kept.format) == (body, 1, change.seq, 3)
    assert ledger.last() == (change.seq, change.digest)


def test_every_revision_stays_readable(ledger):
    for count in range(1, 4):
        entered(ledger, "work/mill", body=b'{"count": %d}' % count)
    assert [ledger.read("work/mill", n).body[-2:-1] for n in (1, 2, 3)] == [b"1", b"2", b"3"]
    with pytest.raises(NotOnFile, match="no revision 4"):
        ledger.read("work/mill", 4)


def test_a_change_says_who_when_where_and_why(ledger):
    furnish(ledger)
    first, *_, last = ledger.changes()
    assert (first.who, first.why, first.zone) == (WHO, "first works", "Europe/Vienna")
    assert first.at.endswith("Z")
    acts = [entry.act for entry in first.entries]
    assert acts == ["number", "file", "file", "save", "save", "save"]
    assert (last.seq, last.before) == (4, list(ledger.changes())[2].digest)


def test_the_changes_of_a_document_are_those_that_concern_it(ledger):
    furnish(ledger)
    assert [change.seq for change in ledger.changes("work/mill")] == [1, 2, 4]
    assert [change.seq for change in ledger.changes("party/new")] == [1, 3]
    assert len(next(ledger.changes("work/mill")).entries) == 6
    own = next(ledger.changes("work/mill", own_only=True)).entries
    assert {each.document for each in own} == {"work/mill"}
    assert [each.seq for each in ledger.changes("work/mill", own_only=True)] == [1, 2, 4]


def test_the_changes_that_did_one_thing_come_whole(ledger):
    furnish(ledger)
    for act in ("save", "merge", "withdraw", "forget", "nothing"):
        found = list(ledger.changes(act=act))
        assert found == [
            change
            for change in ledger.changes()
            if any(entry.act == act for entry in change.entries)
        ]
    assert [change.seq for change in ledger.changes("work/mill", act="save")]


def test_when_each_listed_document_was_changed_last(ledger):
    furnish(ledger)
    moments = {change.seq: change.at for change in ledger.changes()}
    for kind in ("work", "party"):
        assert ledger.touched(kind) == {
            head.document: moments[head.touched] for head in ledger.heads(kind)
        }
    assert "work/mill" in ledger.touched("work")


@pytest.mark.parametrize("missing", ["", "   ", "\n"])
def test_a_change_needs_who_and_why(ledger, missing):
    for said in ({"who": missing, "why": WHY}, {"who": WHO, "why": missing}):
        with pytest.raises(BadData, match="missing"), ledger.change(**said):
            pass
    with pytest.raises(BadData, match="no text"), ledger.change(who="\ud800", why=WHY):
        pass
    assert ledger.last()[0] == 0


def test_an_error_in_the_midst_leaves_nothing_at_all(ledger):
    entered(ledger, "work/mill")
    draft = ledger.keep_draft(who=WHO, document="work/mill", place="I1", text="SALO")
    with (
        suppress(ZeroDivisionError),
        ledger.change(who=WHO, why=WHY) as change,
    ):
        change.save("work/mill", b'{"new": 1}', expected=1)
        change.number("work:2026")
        change.keep_file(b"photo", name="a.png", media_type="image/png")
        change.take_draft(draft.id)
        raise ZeroDivisionError
    assert (change.seq, change.digest) == (None, None)
    assert ledger.last()[0] == 1
    assert ledger.read("work/mill").revision == 1
    assert ledger.drafts() == [draft]
    verdict = ledger.verify()
    assert (verdict.faults, verdict.files, verdict.notes) == ((), 0, ())
    with ledger.change(who=WHO, why=WHY) as change:
        assert change.number("work:2026") == 1


def test_a_change_that_enters_nothing_is_none(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        pass
    assert change.seq is None
    assert list(ledger.changes()) == []


@pytest.mark.parametrize(
    ("expected", "kind"), [(None, StaleRevision), (1, StaleRevision), (3, StaleRevision)]
)
def test_a_document_that_moved_on_is_not_saved_over(ledger, expected, kind):
    entered(ledger, "work/mill")
    entered(ledger, "work/mill")
    with pytest.raises(kind) as refused, ledger.change(who=WHO, why=WHY) as change:
        change.save("work/mill", b'{"mine": 1}', expected=expected)
    assert (refused.value.mine, refused.value.theirs) == (expected, 2)
    assert ledger.read("work/mill").revision == 2


def test_a_document_can_be_saved_twice_in_one_change(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        change.save("work/mill", b"{}", expected=None)
        change.save("work/mill", b'{"b": 1}', expected=1)
    assert ledger.read("work/mill").revision == 2
    assert ledger.verify().faults == ()


@pytest.mark.parametrize(
    "document", ["mill", "/mill", "work/", "Work/a", "work/a b", "work/../x"]
)
def test_an_id_is_a_kind_and_a_name(ledger, document):
    with pytest.raises(BadData, match="id of a document"):
        entered(ledger, document)


def test_a_document_that_nobody_made_cannot_be_edited(ledger):
    with pytest.raises(NotOnFile), ledger.change(who=WHO, why=WHY) as change:
        change.save("work/mill", b"{}", expected=1)
    for ask in (ledger.read, ledger.head):
        with pytest.raises(NotOnFile, match="work/mill"):
            ask("work/mill")
    assert not ledger.has("work/mill")


# --- numbers ----------------------------------------------------------------------------------


def test_numbers_count_up_within_their_scope(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        assert [change.number("work:2026") for _ in range(3)] == [1, 2, 3]
        assert change.number("work:2027") == 1
    with ledger.change(who=WHO, why=WHY) as change:
        assert change.number("work:2026") == 4


def test_a_claimed_number_is_never_given_again(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        change.claim("work:2026", 40)
        change.claim("work:2026", 12)
        assert change.number("work:2026") == 41
        for taken in (12, 40, 41):
            with pytest.raises(BadData, match="given out before"):
                change.claim("work:2026", taken)
    with ledger.change(who=WHO, why=WHY) as change:
        with pytest.raises(BadData, match="given out before"):
            change.claim("work:2026", 12)
        for absurd in (0, -1, 2**70):
            with pytest.raises(BadData, match="not a number"):
                change.claim("work:2026", absurd)
        assert change.number("work:2026") == 42


# --- lists ------------------------------------------------------------------------------------


def test_a_withdrawn_document_leaves_the_lists_and_not_the_history(ledger):
    entered(ledger, "work/mill", "work/ferry", "party/a")
    with ledger.change(who=WHO, why="made by mistake") as change:
        change.withdraw("work/mill")
    assert [head.document for head in ledger.heads("work")] == ["work/ferry"]
    assert [kept.document for kept in ledger.bodies()] == ["party/a", "work/ferry"]
    assert not ledger.head("work/mill").listed
    assert ledger.read("work/mill").body == b"{}"
    everything = [head.document for head in ledger.heads(listed_only=False)]
    assert everything == ["party/a", "work/ferry", "work/mill"]
    with ledger.change(who=WHO, why="no mistake") as change:
        change.reinstate("work/mill")
    assert len(list(ledger.heads("work"))) == 2
    assert ledger.head("work/mill").kind == "work"


def test_a_merged_document_answers_with_the_new_one_until_it_is_undone(ledger):
    entered(ledger, "party/a", body=b'"a"')
    entered(ledger, "party/b", body=b'"b"')
    entered(ledger, "party/c", body=b'"c"')
    with ledger.change(who=WHO, why="same person") as change:
        change.merge("party/a", "party/b")
        change.merge("party/b", "party/c")
    assert ledger.read("party/a").document == "party/c"
    assert ledger.read("party/a", 1).body == b'"a"'
    assert [head.document for head in ledger.heads("party")] == ["party/c"]
    with pytest.raises(StaleRevision, match="merged into party/b"):
        entered(ledger, "party/a")
    for into in ("party/a", "party/b", "party/c"):
        with (
            pytest.raises(BadData, match=r"ring|merged already"),
            ledger.change(who=WHO, why=WHY) as change,
        ):
            change.merge("party/a" if into == "party/a" else "party/c", into)
    with ledger.change(who=WHO, why="not the same after all") as change:
        change.unmerge("party/a")
    assert ledger.read("party/a").body == b'"a"'
    assert ledger.verify().faults == ()


def test_what_is_so_already_is_said_and_not_entered(ledger):
    entered(ledger, "work/mill")
    with ledger.change(who=WHO, why=WHY) as change:
        for again in (change.reinstate, change.unmerge):
            with pytest.raises(BadData):
                again("work/mill")
        change.withdraw("work/mill")
        with pytest.raises(BadData):
            change.withdraw("work/mill")
        with pytest.raises(NotOnFile):
            change.merge("work/mill", "work/nobody")


def test_since_names_everything_that_a_later_change_touched(ledger):
    furnish(ledger)
    assert [name for name, _ in ledger.since(2)] == [
        "party/new", "party/old", "work/ferry", "work/mill",
    ]  # fmt: skip
    assert [name for name, _ in ledger.since(3)] == ["work/mill"]
    assert ledger.since(4) == []
    assert dict(ledger.since(0))["party/old"].merged_into == "party/new"


def test_the_latest_come_first(ledger):
    for document in ("work/a", "work/b", "work/c", "party/d", "work/a"):
        entered(ledger, document)
    assert [head.document for head in ledger.latest("work", 2)] == ["work/a", "work/c"]


def test_a_stream_of_documents_shows_one_moment(ledger):
    entered(ledger, *(f"work/{n:04}" for n in range(1200)))
    stream = ledger.bodies("work")
    first = next(stream)
    entered(ledger, "work/0900", "work/9999", body=b'{"later": 1}')
    rest = list(stream)
    assert len(rest) + 1 == 1200
    assert {kept.body for kept in (first, *rest)} == {b"{}"}


# --- drafts and settings ----------------------------------------------------------------------


def test_a_save_consumes_its_draft(ledger):
    mine = ledger.keep_draft(who=WHO, document="work/mill", place="I1", text="SAL")
    mine = ledger.keep_draft(
        who=WHO, document="work/mill", place="I1", text="SALON", draft_id=mine.id
    )
    other = ledger.keep_draft(who="R. Osk", document="work/mill", place="I2", text="3 gns")
    assert ledger.drafts(WHO) == [mine]
    assert ledger.drafts() == [mine, other]
    with ledger.change(who=WHO, why=WHY) as change:
        change.save("work/mill", b"{}", expected=None)
        change.take_draft(mine.id)
        change.take_draft("one that is gone already")
    assert ledger.drafts() == [other]
    ledger.drop_draft(other.id)
    assert ledger.drafts() == []
    assert [entry.act for each in ledger.changes() for entry in each.entries] == ["save"]


def test_settings_are_kept_and_checked(ledger):
    assert ledger.setting("circa", "5") == "5"
    ledger.set_setting("circa", "3")
    assert ledger.setting("circa", "5") == "3"
    ledger.set_setting("format", "4")
    ledger.set_setting("zone", "Asia/Tokyo")
    entered(ledger, "work/mill")
    (change,) = ledger.changes()
    assert (change.zone, change.format) == ("Asia/Tokyo", 4)
    for name, wrong in (("zone", "Mars/Base"), ("zone", "../etc/passwd"), ("format", "two")):
        with pytest.raises(BadSetting):
            ledger.set_setting(name, wrong)


# --- opening ----------------------------------------------------------------------------------


def test_a_ledger_is_found_again_in_its_folder(folder):
    with Ledger.create(folder) as ledger:
        entered(ledger, "work/mill")
        last = ledger.last()
    with Ledger.open(folder) as ledger:
        assert ledger.last() == last
        assert ledger.read("work/mill").body == b"{}"
    assert sorted(path.name for path in folder.iterdir()) == ["files", "ledger.sqlite"]


def test_a_passing_ledger_is_gone_when_it_is_closed():
    ledger = Ledger.create(None)
    entered(ledger, "work/mill")
    assert ledger.folder.is_dir()
    ledger.close()
    assert not ledger.folder.exists()


def test_a_folder_holds_one_ledger(folder):
    Ledger.create(folder).close()
    with pytest.raises(BadSetting, match="holds a studio already"):
        Ledger.create(folder)
    Ledger.open(folder).close()


def test_where_there_is_no_ledger_none_is_made(tmp_path):
    with pytest.raises(NoStudio, match="init"):
        Ledger.open(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_zone_leaves_no_folder_behind(folder):
    with pytest.raises(BadSetting, match="time zone"):
        Ledger.create(folder, zone="Middle/Earth")
    assert not folder.exists()


# --- several at once --------------------------------------------------------------------------


def test_threads_save_one_after_the_other(folder):
    def save(name: int) -> int:
        with ledger.change(who=f"desk {name}", why=WHY) as change:
            number = change.number("work:2026")
            change.save(f"work/{number}", b"{}", expected=None)
        return number

    with Ledger.create(folder) as ledger, ThreadPoolExecutor(8) as desks:
        numbers = list(desks.map(save, range(80)))
        assert sorted(numbers) == list(range(1, 81))
        verdict = ledger.verify()
        assert (verdict.faults, verdict.changes, verdict.documents) == ((), 80, 80)


def test_a_reader_is_not_kept_waiting_by_a_change(ledger):
    entered(ledger, "work/mill")
    seen = []
    with ledger.change(who=WHO, why=WHY) as change:
        change.save("work/mill", b'{"new": 1}', expected=1)
        reader = threading.Thread(target=lambda: seen.append(ledger.read("work/mill").body))
        reader.start()
        reader.join()
        assert ledger.read("work/mill").revision == 1
    assert seen == [b"{}"]


def test_a_change_within_a_change_is_refused_at_once(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        with pytest.raises(Busy, match="midst of a change"):
            entered(ledger, "work/inner")
        change.save("work/outer", b"{}", expected=None)
    assert ledger.has("work/outer")
    assert not ledger.has("work/inner")
