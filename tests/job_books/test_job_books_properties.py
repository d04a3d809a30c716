"""Whatever stands in a job book: each row is read or refused in words, nothing of it is lost, and it is known again."""

import csv
import io
import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalogue.exchange.books.mapping import known_fields
from catalogue.studio import Studio

FIELDS = list(known_fields())
UGLY = st.one_of(
    st.sampled_from(
        [
            "", " ", "?", "-", "n/a", "0", "60", "31900", "1e400", "3/5/87", "31/2/1987", "c. 1890", "unknown",
            "63 x 76", "24 1/2 x 20 in (62 x 51 cm)", "£", "£1.250,00", "attributed to", "A. Penhale (1840-1926)",
            "signed l.r.: [A. Pen|hale / 1887; label: <b>", "sold; by descent to; (", "=1+1", "'=1", "\t", "a\nb",
        ]
    ),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=40),
)  # fmt: skip
ROWS = st.lists(
    st.lists(UGLY, min_size=len(FIELDS), max_size=len(FIELDS)), min_size=1, max_size=4
)


def book_of(folder, rows):
    """A book with one column for each field there is, and a key of its own."""
    book, mapping = folder / "ugly.csv", folder / "ugly.toml"
    told = io.StringIO(newline="")
    writing = csv.writer(told)
    writing.writerow(["key", *FIELDS])
    writing.writerows([f"k{at}", *row] for at, row in enumerate(rows))
    book.write_bytes(told.getvalue().encode())
    columns = [f"{json.dumps(name)} = {json.dumps(name)}" for name in FIELDS]
    settings = (
        'name = "ugly"\nkey = ["key"]\nseparator = ","\nunit = "cm"\ntwo_figures_from = 1900'
    )
    mapping.write_text(f"[book]\n{settings}\n[columns]\n" + "\n".join(columns), "utf-8")
    return book, mapping


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(ROWS)
def test_every_row_is_read_or_refused_and_known_again(tmp_path_factory, rows):
    book, mapping = book_of(tmp_path_factory.mktemp("ugly"), rows)
    with Studio.open("memory:") as studio:
        tried = list(studio.read_book(book, mapping, who="Nell").tried())
        # A quotation mark in a cell is written doubled, so that no row swallows another.
        assert [row.key for row in tried] == [f"k{at}" for at in range(len(rows))]
        for row in tried:
            assert bool(row.refused) is (row.work is None)
        list(studio.read_book(book, mapping, who="Nell").taken())
        again = list(studio.read_book(book, mapping, who="Nell").tried())
        assert [row.outcome for row in again] == [
            "refused" if row.refused else "same" for row in tried
        ]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(ROWS)
def test_what_was_left_over_stands_in_a_note_or_in_the_remarks(tmp_path_factory, rows):
    book, mapping = book_of(tmp_path_factory.mktemp("ugly"), rows)
    with Studio.open("memory:") as studio:
        for row in studio.read_book(book, mapping, who="Nell").tried():
            if row.refused:
                continue
            notes = [note.text for note in row.work.notes]
            notes += [note.text for note in row.job.notes] if row.job else []
            written = [each.written or "" for each in row.work.attributions]
            for cell in row.cells:
                # A "?" alone stands for an empty cell: it is told, and is nothing to keep.
                if cell.rest == "?":
                    assert cell.remarks
                    continue
                # People are kept by their names; what stands beside a client's name is told.
                if cell.rest and cell.field not in ("client", "owner"):
                    kept = [*notes, *written]
                    assert any(
                        " ".join(cell.written.split()) in " ".join(text.split())
                        for text in kept
                    )
