"""Processes that save at once, and a process that is killed while it saves.

DORSE_KILLS says how many kills (20 in the ordinary run).
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time

import pytest
from ledger_samples import CHILD, CHILDS_WORLD, a_new_folder

from catalogue.ledger import Ledger

FIXTURES = (a_new_folder,)

KILLS = int(os.environ.get("DORSE_KILLS", "20"))


def started(*arguments, **more):
    return subprocess.Popen(
        [sys.executable, str(CHILD), *map(str, arguments)],
        stdout=subprocess.PIPE,
        env=CHILDS_WORLD,
        text=True,
        **more,
    )


def test_two_processes_save_one_after_the_other(folder):
    Ledger.create(folder).close()
    desks = [started("write", folder, f"desk {n}", 40) for n in range(2)]
    told = [desk.communicate(timeout=60)[0].split() for desk in desks]
    assert [desk.returncode for desk in desks] == [0, 0]
    numbers = [int(number) for each in told for number in each]
    assert sorted(numbers) == list(range(1, 81))
    with Ledger.open(folder) as ledger:
        verdict = ledger.verify()
        assert (verdict.faults, verdict.changes, verdict.documents) == ((), 80, 80)
        assert {change.who for change in ledger.changes()} == {"desk 0", "desk 1"}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a system without fork and SIGKILL")
def test_no_acknowledged_change_is_lost_to_a_kill(folder):
    Ledger.create(folder).close()
    told: list[list[str]] = []
    by_chance = random.Random(2026)
    with started("fork", folder, stdin=subprocess.PIPE) as desk:
        for _ in range(KILLS):
            desk.stdin.write("on\n")
            desk.stdin.flush()
            kill_soon(desk, told, by_chance)
        desk.stdin.close()
    assert desk.returncode == 0
    assert len(told) > KILLS
    with Ledger.open(folder) as ledger:
        kept = {change.seq: change for change in ledger.changes()}
        for seq, document, mark, photo in told:
            assert kept[int(seq)].why == mark
            assert mark.encode() in ledger.read(document, 1).body
            assert ledger.read_file(photo) == mark.encode()
        verdict = ledger.verify()
        assert verdict.faults == ()
        # a kill may come between the commit and the word of it, once each at most
        assert len(told) <= verdict.changes <= len(told) + KILLS


def kill_soon(desk, told, by_chance):
    """Kill the desk's child at some moment after its first save, and hear what it told till then."""
    pid, due = None, None
    while True:
        word, *rest = desk.stdout.readline().split()
        if word == "gone":
            return
        if word == "pid":
            pid = int(rest[0])
        else:
            told.append([word, *rest])
            due = due or time.monotonic() + by_chance.random() * 0.04
        if pid and due and time.monotonic() >= due:
            os.kill(pid, signal.SIGKILL)
            pid = None
