"""Timings of tables out and job books in, as Markdown rows; how they are run is said in test_bench.py.

What goes out is measured beside `json.dumps` and a write of the same documents in the same run. Memory is
the most that Python's own allocations come to beyond what stood before (tracemalloc, in a run of its own).
"""

from __future__ import annotations

import json
import tracemalloc
from itertools import islice
from pathlib import Path
from time import perf_counter

import openpyxl
import pytest
from seeded import records
from test_bench import SIZES, told

from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.tables import in_csv as csv_tables
from catalogue.exchange.tables import in_xlsx as xlsx_tables
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import parse, write
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
FORMATS = {"csv": csv_tables, "xlsx": xlsx_tables}
MAPPING = """
[book]
name = "bench"
key = ["No."]
unit = "cm"
currency = "euro"
[columns]
"No." = "number"
"Title" = "title"
"Artist" = "artist"
"Year" = "date"
"Size" = "size"
"Client" = "client"
"In" = "came"
"Out" = "left"
"Fee" = "price"
"Marks" = "inscriptions"
"Whence" = "provenance"
"Notes" = "notes"
"""


def bodies(count):
    for record in records(count):
        yield record.document, write(to_jsonld(record))


def export(module, documents, folder):
    folder.mkdir(exist_ok=True)
    writing = module.begin(
        Sender(None, lambda _: ("Person", "Ada Penhale"), "full", scratch=folder)
    )
    for document_id, body in documents:
        list(writing.add(Leaving(document_id, "stem", body)))
    return sum(path.stat().st_size for _, path in writing.close() if isinstance(path, Path))


@pytest.mark.parametrize("count", SIZES)
def test_tables_out(count, tmp_path):
    held = list(bodies(count))
    nodes = [(name.replace("/", "-"), parse(body)) for name, body in held]
    (tmp_path / "json").mkdir()
    start = perf_counter()
    for name, node in nodes:
        (tmp_path / "json" / name).write_text(json.dumps(node))
    plain = count / (perf_counter() - start)
    for name, module in FORMATS.items():
        start = perf_counter()
        size = export(module, held, tmp_path / name)
        rate = count / (perf_counter() - start)
        told(
            f"{count} works as {name}",
            f"{rate:.0f} works/s, {size / 1e6:.1f} MB; json.dumps and write {plain:.0f} works/s",
        )


@pytest.mark.parametrize("name", FORMATS)
def test_memory_of_tables_out(name, tmp_path):
    for count in (200, 800):
        tracemalloc.start()
        export(FORMATS[name], islice(bodies(count), None), tmp_path / f"{name}-{count}")
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        told(f"{count} works as {name}: most memory", f"{most / 1e6:.1f} MB")


def rows(count):
    yield [
        "No.",
        "Title",
        "Artist",
        "Year",
        "Size",
        "Client",
        "In",
        "Out",
        "Fee",
        "Marks",
        "Whence",
        "Notes",
    ]
    for n in range(count):
        yield [
            f"87/{n}", f"Low Tide {n}", f"attributed to A. Penhale {n % 90}", f"c. {1850 + n % 60}",
            "63,5 x 76,2", f"Mrs Quillan {n % 70}", "3/5/1987", "12/6/1987", "120",
            "signed l.r.: A. Penhale / 1887; on stretcher in pencil: 412",
            "Ada Hollis, Hull, 1902; by descent to her son, 1931", "lined",
        ]  # fmt: skip


def book(path, count):
    if path.suffix == ".csv":
        lines = ("|".join(row) for row in rows(count))
        path.write_text("\n".join(lines), encoding="utf-8")
        return path
    made = openpyxl.Workbook(write_only=True)
    sheet = made.create_sheet("Jobs")
    for row in rows(count):
        sheet.append(row)
    made.save(path)
    return path


@pytest.mark.parametrize("count", SIZES)
def test_job_books_in(count, tmp_path):
    mapping = tmp_path / "mapping.toml"
    mapping.write_text(MAPPING, encoding="utf-8")
    for ending in ("csv", "xlsx"):
        source = book(tmp_path / f"book.{ending}", count)
        with Studio.init(tmp_path / f"studio-{ending}") as studio:
            assert studio.read_book(source, mapping, who="Nell").book.heads  # loads once
            for what in (
                "rows cut into cells",
                "rows tried",
                "rows taken in",
                "rows known again",
            ):
                taking = studio.read_book(source, mapping, who="Nell")
                work = {
                    "rows cut into cells": lambda t: t.book.rows,
                    "rows tried": lambda t: t.tried(),
                }
                start = perf_counter()
                for _ in work.get(what, lambda t: t.taken())(taking):
                    pass
                told(
                    f"{count} {what}, {ending}",
                    f"{count / (perf_counter() - start):.0f} rows/s",
                )
