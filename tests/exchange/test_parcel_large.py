"""Parcels with large files and with many: what they need of memory, and what is not taken in of them."""

from __future__ import annotations

import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from parcels import WHO, contents, house, sent, with_a_large_file, with_pictures

from catalogue.studio import Studio

LARGE = 256 * 1024 * 1024
ROOM_MB = 160
"""A process that takes in a small parcel needs about 85 MB; a large file must not add its own size."""

ANOTHER = "data/records/work-00000000-0000-4000-8000-000000000000.json"

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/status").is_file(), reason="memory is only told by Linux"
)


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """What is in a parcel of everything: names within the bag, contents."""
    with house() as studio:
        return contents(sent(studio, "full", tmp_path_factory.mktemp("full")))


def one(files, folder, ending=""):
    return next(name for name in files if re.match(rf"data/{folder}/.*{ending}", name))


def taken_in_alone(parcel, studio):
    """Outcomes, what was said, and the most memory in MB, of an import in a process of its own."""
    program = (
        "import re, sys; from pathlib import Path; from catalogue.studio import Studio\n"
        "with Studio.init(sys.argv[1]) as studio:\n"
        f"    for each in studio.import_([Path(sys.argv[2])], who={WHO!r}):\n"
        "        print(each.outcome, *each.said)\n"
        "print(int(re.search(r'VmHWM:\\s+(\\d+)', Path('/proc/self/status').read_text())[1]) // 1024)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program, str(studio), str(parcel)],
        check=True,
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
    )
    *told, peak = ran.stdout.strip().splitlines()
    return "\n".join(told), int(peak)


def test_a_large_paper_comes_in_piece_by_piece(files, tmp_path):
    paper = one(files, "papers")
    digest = Path(paper).stem.encode()
    changed = {
        name: content.replace(digest, b"ZEROS")
        for name, content in files.items()
        if name != paper
    }
    zeros = with_a_large_file(tmp_path / "a.zip", changed, "data/papers/ZEROS.pdf", LARGE)
    told, peak = taken_in_alone(tmp_path / "a.zip", tmp_path / "studio")
    assert "refused" not in told
    assert peak < ROOM_MB
    with Studio.open(tmp_path / "studio") as studio:
        assert studio.ledger.file(zeros).stat().st_size == LARGE


def test_a_copy_of_a_photograph_that_is_no_copy_is_left_out_in_words(files, tmp_path):
    copy = one(files, "pictures", "jpg")
    changed = {
        name: content
        for name, content in files.items()
        if name != copy and not name.startswith("data/originals/")
    }
    with_a_large_file(tmp_path / "a.zip", changed, copy, LARGE)
    told, peak = taken_in_alone(tmp_path / "a.zip", tmp_path / "studio")
    assert "a copy of 268 MB; at most 64 MB are taken" in told
    assert "refused" not in told
    assert peak < ROOM_MB


def test_a_record_as_large_as_no_record_is_refused_and_the_others_come_in(files, tmp_path):
    with_a_large_file(tmp_path / "a.zip", files, ANOTHER, LARGE)
    told, peak = taken_in_alone(tmp_path / "a.zip", tmp_path / "studio")
    assert f"{ANOTHER.removeprefix('data/')} is 268 MB; at most 67 MB" in told
    # where it lies while it is read says nothing to anybody
    assert "dorse-" not in told
    assert told.count("refused") == 1
    assert told.count("new") == 5
    assert peak < ROOM_MB


def test_many_zeros_packed_small_are_a_bomb(tmp_path):
    packing = zipfile.ZipFile(tmp_path / "a.zip", "w", zipfile.ZIP_DEFLATED)
    with packing as packed, packed.open("records/work.json", "w") as entry:
        for _ in range(LARGE >> 20):
            entry.write(bytes(1 << 20))
    assert (tmp_path / "a.zip").stat().st_size < 1_000_000
    told, peak = taken_in_alone(tmp_path / "a.zip", tmp_path / "studio")
    assert told.startswith("refused")
    assert "swells" in told
    assert peak < ROOM_MB


def test_the_control_a_small_parcel_needs_as_much(files, tmp_path):
    """Else the bound above would say little."""
    with house() as studio:
        parcel = sent(studio, "full", tmp_path / "sent")
        assert with_pictures(studio).papers
    told, peak = taken_in_alone(parcel, tmp_path / "studio")
    assert told.count("new") == 5
    assert ROOM_MB - 110 < peak < ROOM_MB
