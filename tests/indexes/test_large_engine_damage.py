"""The second engine's files, damaged, cut off or gone: a call for a rebuild, never a wrong answer."""

from __future__ import annotations

import random
import shutil
import subprocess
import sys

import pytest

pytest.importorskip("tantivy", reason="the extra `large` is not installed")

from test_indexes_words import CHANGED, WORKS, answers, damage, seen_or_refused

from catalogue.indexes.generations import NeedsRebuild
from catalogue.indexes.large.words import LargeWords


@pytest.fixture(scope="module")
def sound(tmp_path_factory):
    """A folder with a sound index, and what it answers."""
    folder = tmp_path_factory.mktemp("large") / "sound"
    with LargeWords(folder) as index:
        index.take_in(WORKS.items(), 20)
        index.take_in(list(CHANGED.items())[:6], 26)
        right = index.cursor, answers(index)
    return folder, right


@pytest.mark.parametrize("opened_before", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_a_damaged_file_is_a_call_for_a_rebuild_never_a_wrong_answer(
    tmp_path, sound, seed, opened_before
):
    folder, right = sound
    chance = random.Random(seed)
    shutil.copytree(folder, tmp_path / "damaged")
    files = [
        each for each in sorted((tmp_path / "damaged").rglob("*"))
        if each.is_file() and each.suffix != ".lock" and each.stat().st_size
    ]  # fmt: skip
    with LargeWords(tmp_path / "damaged") as index:
        if opened_before:
            answers(index)
        damage(chance.choice(files), chance, flip=not opened_before)
        assert seen_or_refused(index) in (right, "rebuild")
        index.rebuild((WORKS | dict(list(CHANGED.items())[:6])).items(), 26)
        assert (index.cursor, answers(index)) == right


@pytest.mark.parametrize("seed", range(6))
def test_a_file_that_is_gone_is_a_call_for_a_rebuild(tmp_path, sound, seed):
    folder, right = sound
    shutil.copytree(folder, tmp_path / "damaged")
    files = [each for each in sorted((tmp_path / "damaged").rglob("*")) if each.is_file()]
    random.Random(seed).choice(files).unlink()
    with LargeWords(tmp_path / "damaged") as index:
        assert seen_or_refused(index) in (right, "rebuild", (0, answers(LargeWords(tmp_path))))


WRITER = """
import sys
from test_indexes_words import CHANGED, WORKS
from catalogue.indexes.large.words import LargeWords
from pathlib import Path
index = LargeWords(Path(sys.argv[1]))
for number, change in enumerate([*WORKS.items(), *CHANGED.items()], 1):
    index.take_in([change], number)
    print(number, flush=True)
"""


@pytest.mark.parametrize("after", [1, 3, 8])
def test_a_killed_writer_loses_nothing_it_said_was_done(tmp_path, after):
    child = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(tmp_path)],
        stdout=subprocess.PIPE,
        text=True,
        env={"PYTHONPATH": ":".join(sys.path)},
    )
    with child:
        assert child.stdout is not None
        said = [int(child.stdout.readline()) for _ in range(after)]
        child.kill()
    with LargeWords(tmp_path) as index:
        assert index.cursor >= said[-1]
        changes = [*WORKS.items(), *CHANGED.items()][: index.cursor]
        with LargeWords(tmp_path / "anew") as anew:
            anew.rebuild(dict(changes).items(), index.cursor)
            assert answers(index) == answers(anew)
        index.take_in([], 10_000)
        assert index.cursor == 10_000


def test_an_error_says_what_to_do(tmp_path, sound):
    shutil.copytree(sound[0], tmp_path / "damaged")
    for each in (tmp_path / "damaged").rglob("*"):
        if each.is_file() and each.name != "current":
            each.write_bytes(b"")
    with (
        LargeWords(tmp_path / "damaged") as index,
        pytest.raises(NeedsRebuild, match="dorse rebuild"),
    ):
        answers(index)
