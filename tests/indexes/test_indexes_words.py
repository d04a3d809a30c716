"""The index as it lives: taken in, caught up, made anew, shared, killed and damaged."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import threading
import zlib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_entries import invented

from catalogue.errors import Busy, CannotSave, Damaged
from catalogue.indexes.lock import LOCK, one_writer
from catalogue.indexes.stored import FORMAT
from catalogue.indexes.words import NeedsRebuild, Query, Words

WORKS = dict(invented(20))
CHANGED = dict(invented(20, seed=8))
QUESTIONS = ("harbour", "of the", '"by evening"', "c*", "zzz", "harbour gilder 14")


def answers(index: Words, extra=()):
    """Everything that can be seen of an index: the answers to a set of questions."""
    asked = [Query(words=typed, limit=500) for typed in QUESTIONS]
    asked += [Query(artist="tälberg", limit=500), Query(earliest=691_000, limit=500)]
    return [index.search(query, extra) for query in asked]


def made_anew(folder: Path, documents) -> list:
    with Words(folder) as index:
        index.rebuild([(name, entries) for name, entries in documents.items() if entries], 1)
        return answers(index)


def child(code: str, *arguments: object) -> subprocess.Popen[str]:
    """Another process that runs this code with our rooms and these tests at hand."""
    where = os.pathsep.join([str(Path(__file__).parent), *filter(None, sys.path)])
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": where},
        stdout=subprocess.PIPE,
        text=True,
    )


# --- taking in ---------------------------------------------------------------------------


def test_an_index_begins_empty_even_without_its_folder(tmp_path):
    with Words(tmp_path / "not" / "there") as index:
        assert index.cursor == 0
        assert index.search(Query(words="harbour")).total == 0
        index.take_in(WORKS.items(), 20)
        assert index.cursor == 20
        assert index.search(Query(words="harbour")).total > 0


def test_what_is_taken_in_replaces_what_was_there(tmp_path):
    with Words(tmp_path / "a") as index:
        index.take_in(WORKS.items(), 20)
        first = dict(list(CHANGED.items())[:5])
        index.take_in([*first.items(), ("work/0007", ())], 26)
        now = WORKS | first | {"work/0007": ()}
        assert index.cursor == 26
        assert answers(index) == made_anew(tmp_path / "b", now)


def test_a_change_without_words_moves_the_cursor_only(tmp_path):
    with Words(tmp_path) as index:
        index.take_in([], 3)
        assert index.cursor == 3
        index.take_in(WORKS.items(), 20)
        before = answers(index)
        index.take_in([], 21)
        assert (index.cursor, answers(index)) == (21, before)


@settings(max_examples=8, deadline=None)
@given(st.data())
def test_caught_up_save_by_save_it_answers_as_one_made_anew(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("indexes")
    names = st.sampled_from(sorted(WORKS))
    steps = st.lists(
        st.dictionaries(names, st.sampled_from([WORKS, CHANGED, None])), max_size=5
    )
    now: dict = {}
    with Words(folder / "a") as index:
        for number, step in enumerate(data.draw(steps), 1):
            batch = {name: source[name] if source else () for name, source in step.items()}
            # what is not yet taken in counts as if it were
            foreseen = answers(index, tuple(batch.items()))
            index.take_in(batch.items(), number)
            now |= batch
            assert index.cursor == number
            assert foreseen == answers(index)
        index.take_in(now.items(), 99)
        assert answers(index) == made_anew(folder / "b", now)


@settings(max_examples=8, deadline=None)
@given(st.data())
def test_what_is_held_is_found_as_if_it_were_taken_in(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("indexes")
    names = st.sampled_from(sorted(WORKS))
    steps = st.lists(
        st.dictionaries(names, st.sampled_from([WORKS, CHANGED, None])), min_size=1, max_size=5
    )
    now: dict = {}
    with Words(folder / "a") as index:
        for number, step in enumerate(data.draw(steps), 1):
            batch = {name: source[name] if source else () for name, source in step.items()}
            index.hold(batch.items(), number)
            now |= batch
            assert (index.cursor, index.reached) == (0, number)
        expected = made_anew(folder / "b", now)
        assert answers(index) == expected
        index.settle()
        assert (index.cursor, index.waiting, answers(index)) == (number, (), expected)


def test_what_another_process_took_in_is_held_no_longer(tmp_path):
    with Words(tmp_path) as one, Words(tmp_path) as other:
        one.hold([("work/0001", WORKS["work/0001"])], 1)
        one.hold([("work/0002", WORKS["work/0002"])], 3)
        other.take_in([("work/0001", CHANGED["work/0001"])], 2)
        assert dict(one.waiting) == {"work/0002": WORKS["work/0002"]}
        now = {"work/0001": CHANGED["work/0001"], "work/0002": WORKS["work/0002"]}
        assert answers(one) == made_anew(tmp_path / "b", now)


def test_a_document_named_twice_in_a_batch_is_there_once(tmp_path):
    with Words(tmp_path / "a") as index:
        index.take_in(
            [("work/0001", WORKS["work/0001"]), ("work/0001", CHANGED["work/0001"])], 2
        )
        expected = made_anew(tmp_path / "b", {"work/0001": CHANGED["work/0001"]})
        assert answers(index) == expected


def test_making_anew_leaves_one_generation_and_no_litter(tmp_path):
    with Words(tmp_path) as index:
        index.take_in(WORKS.items(), 20)
        for number in range(3):
            index.take_in(list(CHANGED.items())[number : number + 2], 21 + number)
        before = answers(index)
        (tmp_path / "words-9").mkdir()
        index.rebuild((WORKS | dict(list(CHANGED.items())[:4])).items(), 30)
        assert (index.cursor, answers(index)) == (30, before)
    [generation] = tmp_path.glob("words-*/")
    assert sorted(each.suffix for each in generation.iterdir()) == [".json", ".seg", ".toc"]


def test_a_rebuild_that_fails_leaves_the_old_index(tmp_path):
    def documents():
        yield "work/0001", CHANGED["work/0001"]
        raise Damaged("this record cannot be read")

    with Words(tmp_path) as index:
        index.take_in(WORKS.items(), 20)
        before = answers(index)
        with pytest.raises(Damaged, match="cannot be read"):
            index.rebuild(documents(), 30)
        assert (index.cursor, answers(index)) == (20, before)
        index.take_in(CHANGED.items(), 31)
        assert answers(index) == made_anew(tmp_path / "b", CHANGED)


# --- several at once ---------------------------------------------------------------------


def test_another_index_object_sees_every_commit(tmp_path):
    with Words(tmp_path) as one, Words(tmp_path) as other:
        one.take_in(WORKS.items(), 20)
        assert (other.cursor, answers(other)) == (20, answers(one))
        other.take_in(CHANGED.items(), 40)
        assert (one.cursor, answers(one)) == (40, answers(other))
        one.rebuild(WORKS.items(), 41)
        assert (other.cursor, answers(other)) == (41, answers(one))


def test_readers_go_on_while_a_writer_commits_and_swaps(tmp_path):
    faults: list[BaseException] = []
    done = threading.Event()
    with Words(tmp_path) as index, Words(tmp_path) as other:
        index.take_in(WORKS.items(), 20)
        allowed = {index.search(Query(words="harbour", limit=500)).total}
        index.rebuild(CHANGED.items(), 20)
        allowed.add(index.search(Query(words="harbour", limit=500)).total)

        def read(reader: Words) -> None:
            try:
                while not done.is_set():
                    assert reader.search(Query(words="harbour", limit=500)).total in allowed
            except BaseException as fault:  # noqa: BLE001 — whatever it is, it is the finding
                faults.append(fault)

        readers = [
            threading.Thread(target=read, args=(each,)) for each in (index, other, other)
        ]
        for reader in readers:
            reader.start()
        for number in range(4):
            index.take_in((WORKS if number % 2 else CHANGED).items(), 21 + number)
            other.rebuild((CHANGED if number % 2 else WORKS).items(), 21 + number)
        done.set()
        for reader in readers:
            reader.join()
    assert not faults


HOLDER = """
import pathlib, sys, time
from catalogue.indexes.lock import one_writer
with one_writer(pathlib.Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(600)
"""


def test_one_process_writes_at_a_time_and_a_dead_one_holds_nothing(tmp_path):
    holder = child(HOLDER, tmp_path)
    try:
        assert holder.stdout.readline() == "held\n"
        with Words(tmp_path) as index:
            with pytest.raises(Busy, match=f"process {holder.pid} "):
                index.take_in(WORKS.items(), 20)
            with pytest.raises(Busy):
                index.rebuild(WORKS.items(), 20)
            index.hold(WORKS.items(), 20)
            with pytest.raises(Busy):
                index.settle()
            assert dict(index.waiting) == WORKS
            found = answers(index)
            assert (index.cursor, index.reached) == (0, 20)
            holder.kill()
            holder.wait()
            assert (tmp_path / LOCK).read_text().strip() == str(holder.pid)
            index.settle()
            assert index.waiting == ()
            assert (index.cursor, answers(index)) == (20, found)
    finally:
        holder.kill()
        holder.wait()
        holder.stdout.close()


@pytest.mark.parametrize(
    "left",
    ["", "no pid", str(os.getpid()), "1", "999999999"],
    ids=["empty", "no number", "this process", "the first", "none"],
)
def test_a_lock_file_left_behind_is_taken_over(tmp_path, left):
    (tmp_path / LOCK).write_text(left)
    with Words(tmp_path) as index:
        index.take_in(WORKS.items(), 20)
        assert index.cursor == 20
    assert (tmp_path / LOCK).read_text().strip() == str(os.getpid())


def test_threads_of_one_process_keep_each_other_out(tmp_path):
    with one_writer(tmp_path), Words(tmp_path) as index, pytest.raises(Busy):
        index.take_in(WORKS.items(), 20)


# --- killed, cut off, full ---------------------------------------------------------------

WRITER = """
import sys, pathlib
from invented_entries import invented
from catalogue.indexes.words import Words
sources = [list(invented(20, seed=seed)) for seed in (7, 8)]
with Words(pathlib.Path(sys.argv[1])) as index:
    for number in range(index.cursor + 1, 100_000):
        if number % 25 == 0:
            last = range(number - 19, number + 1)
            index.rebuild([sources[(n // 20) % 2][n % 20] for n in last], number)
        else:
            index.take_in([sources[(number // 20) % 2][number % 20]], number)
        print(number, flush=True)
"""


def state_after(number: int) -> dict:
    """What the child's index holds after so many changes, change by change."""
    now = {}
    for change in range(1, number + 1):
        source = list((WORKS, CHANGED)[(change // 20) % 2].items())
        name, entries = source[change % 20]
        now[name] = entries
    return now


def test_a_killed_writer_loses_nothing_it_said_was_done(tmp_path):
    chance = random.Random(5)
    said = 0
    for _ in range(5):
        writer = child(WRITER, tmp_path / "killed")
        for _ in range(chance.randint(3, 12)):
            said = int(writer.stdout.readline())
        timer = threading.Timer(chance.random() * 0.05, writer.kill)
        timer.start()
        said = max([said, *map(int, writer.stdout.read().split())])
        writer.wait()
        timer.join()
        writer.stdout.close()
        with Words(tmp_path / "killed") as index:
            reached = index.cursor
            assert said <= reached <= said + 1
            expected = made_anew(tmp_path / f"anew-{reached}", state_after(reached))
            assert answers(index) == expected
            # what is replayed from an earlier change on changes nothing in the end
            index.take_in(state_after(reached).items(), reached)
            assert answers(index) == expected
    assert said > 25


FILLER = """
import pathlib, resource, sys
from invented_entries import invented
from catalogue.errors import CannotSave
from catalogue.indexes.words import Words
with Words(pathlib.Path(sys.argv[1])) as index:
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
    for verb in (index.take_in, index.rebuild):
        try:
            verb(invented(300, seed=9), 50)
        except CannotSave as fault:
            print("refused:", str(fault).splitlines()[0])
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits on file sizes are POSIX")
@pytest.mark.parametrize("most", [0, 100, 5_000, 60_000])
def test_a_full_disk_leaves_the_index_as_it_was(tmp_path, most):
    with Words(tmp_path) as index:
        index.take_in(WORKS.items(), 20)
        before = answers(index)
        writer = child(FILLER, tmp_path, most)
        said = writer.communicate()[0]
        assert writer.returncode == 0
        assert said.count("refused: ") == 2
        assert (index.cursor, answers(index)) == (20, before)
        index.take_in(CHANGED.items(), 40)
        assert (index.cursor, answers(index)) == (40, made_anew(tmp_path / "b", CHANGED))


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with Words(tmp_path / "file" / "indexes") as index, pytest.raises(CannotSave):
        index.take_in(WORKS.items(), 20)


def sound(folder: Path) -> None:
    with Words(folder) as index:
        index.take_in(WORKS.items(), 20)
        index.take_in(list(CHANGED.items())[:6], 26)


FILES = ("current", "*.toc", "seal-*.json", "MAIN_*.seg")


@pytest.mark.parametrize("pattern", FILES)
@pytest.mark.parametrize("opened_before", [False, True])
def test_a_damaged_file_is_a_call_for_a_rebuild_never_a_wrong_answer(
    tmp_path, pattern, opened_before
):
    chance = random.Random(pattern)
    sound(tmp_path / "sound")
    with Words(tmp_path / "sound") as index:
        right = (index.cursor, answers(index))
    for number in range(8):
        folder = tmp_path / f"damaged-{number}"
        shutil.copytree(tmp_path / "sound", folder)
        with Words(folder) as index:
            if opened_before:
                answers(index)
            damage(chance.choice(sorted(folder.rglob(pattern))), chance, flip=not opened_before)
            seen = seen_or_refused(index)
            assert seen in (right, "rebuild")
            if seen == "rebuild":
                with pytest.raises(NeedsRebuild, match="dorse rebuild"):
                    index.take_in(CHANGED.items(), 40)
            index.rebuild((WORKS | dict(list(CHANGED.items())[:6])).items(), 26)
            assert (index.cursor, answers(index)) == right


def seen_or_refused(index: Words):
    try:
        return index.cursor, answers(index)
    except NeedsRebuild:
        return "rebuild"


def damage(file: Path, chance: random.Random, *, flip: bool) -> None:
    """Cut a file off, or change one byte in it.

    A byte is not changed under an open index: only what is read anew is compared with its sum.
    """
    content = bytearray(file.read_bytes())
    at = chance.randrange(len(content))
    if flip and chance.random() < 0.5:
        content[at] ^= chance.randint(1, 255)
        file.write_bytes(content)
    else:
        file.write_bytes(content[:at])


@pytest.mark.parametrize("pattern", FILES[1:])
def test_a_file_that_is_gone_is_a_call_for_a_rebuild(tmp_path, pattern):
    sound(tmp_path)
    for file in tmp_path.rglob(pattern):
        file.unlink()
    with Words(tmp_path) as index:
        for ask in (lambda: index.cursor, lambda: answers(index)):
            with pytest.raises(NeedsRebuild):
                ask()


@pytest.mark.parametrize(
    "name", ["words-77", "../elsewhere", "/", "", "words-1\nwords-2", "\x00"]
)
def test_a_pointer_to_nowhere_is_a_call_for_a_rebuild(tmp_path, name):
    sound(tmp_path)
    (tmp_path / "current").write_text(name)
    with Words(tmp_path) as index, pytest.raises(NeedsRebuild):
        index.search(Query(words="harbour"))


def test_an_index_of_another_version_is_made_anew(tmp_path):
    sound(tmp_path)
    [seal] = tmp_path.rglob("seal-*.json")
    body = (
        seal.read_bytes().partition(b"\n")[2].replace(b'"format": %d' % FORMAT, b'"format": 0')
    )
    seal.write_bytes(f"{zlib.crc32(body):08x}\n".encode() + body)
    with Words(tmp_path) as index, pytest.raises(NeedsRebuild, match="another version"):
        index.search(Query(words="harbour"))


def test_it_may_be_deleted_while_it_is_open(tmp_path):
    with Words(tmp_path / "indexes") as index:
        index.take_in(WORKS.items(), 20)
        before = answers(index)
        shutil.rmtree(tmp_path / "indexes")
        assert index.cursor == 0
        assert not index.search(Query(words="harbour")).hits
        index.take_in(WORKS.items(), 20)
        assert answers(index) == before
