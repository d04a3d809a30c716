"""Job books tried and taken in: known again, different, added; people by their very names; mappings that don't fit."""

import json
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from catalogue.command import main
from catalogue.errors import BadDocument, BadSetting
from catalogue.exchange.books.mapping import Habits, mapping_from, mapping_of
from catalogue.exchange.books.rows import Written
from catalogue.job_books.days import read_day
from catalogue.job_books.guessing import drafted, fields_of_heads
from catalogue.record import Job, Party, PartyName, Work
from catalogue.studio import Studio

BOOKS = Path(__file__).parent / "books"
BOOK, MAPPING = BOOKS / "ledger-1987.csv", BOOKS / "ledger-1987.toml"
SMALL = {
    "book": {"name": "small", "key": ["No."], "unit": "cm", "currency": "euro"},
    "columns": {
        "No.": "number", "Title": "title", "Artist": "artist", "Client": "client", "Tel": "client-phone",
        "In": "came", "Price": "price", "Asked": "asking-price", "Notes": "notes", "Why": "reason",
    },
}  # fmt: skip


@pytest.fixture
def small(tmp_path):
    """Writes a small book and its mapping, and gives both paths."""

    def write(*rows, **settings):
        heads = list(SMALL["columns"])
        book = tmp_path / "small.csv"
        lines = [
            ";".join(heads),
            *(";".join(str(row.get(head, "")) for head in heads) for row in rows),
        ]
        book.write_text("\n".join(lines), encoding="utf-8")
        mapping = tmp_path / "small.toml"
        held = {**SMALL["book"], **settings}
        told = [f"{name} = {json.dumps(value)}" for name, value in held.items()]
        columns = [
            f"{json.dumps(head)} = {json.dumps(name)}"
            for head, name in SMALL["columns"].items()
        ]
        mapping.write_text(
            "\n".join(["[book]", *told, "[columns]", *columns]), encoding="utf-8"
        )
        return book, mapping

    return write


def outcomes(studio, book, mapping, **how):
    told = list(studio.read_book(book, mapping, who="Nell", **how).taken())
    return sorted({each.outcome for each in told}), told


def test_a_book_taken_in_twice_is_the_same(empty_studio):
    assert outcomes(empty_studio, BOOK, MAPPING)[0] == ["new", "refused"]
    works = {kept.document_id for kept in empty_studio.all(Work)}
    assert outcomes(empty_studio, BOOK, MAPPING)[0] == ["refused", "same"]
    assert {kept.document_id for kept in empty_studio.all(Work)} == works
    assert len(works) == 57


def test_a_book_is_tried_without_a_trace(empty_studio):
    before = empty_studio.ledger.last()
    rows = list(empty_studio.read_book(BOOK, MAPPING, who="Nell").tried())
    assert [row.outcome for row in rows].count("new") == 57
    assert empty_studio.ledger.last() == before
    outcomes(empty_studio, BOOK, MAPPING)
    again = list(empty_studio.read_book(BOOK, MAPPING, who="Nell").tried())
    assert [row.outcome for row in again].count("same") == 57


def test_a_changed_row_is_different_and_only_added_to_when_asked(empty_studio, small):
    row = {"No.": 1, "Title": "Low Tide", "Artist": "A. Penhale"}
    outcomes(empty_studio, *small(row))
    changed = small({**row, "Title": "High Tide", "Notes": "lined"})
    told = outcomes(empty_studio, *changed)[1]
    work = next(each for each in told if each.document_id.startswith("work/"))
    assert work.outcome == "different"
    assert work.source.endswith("small.csv, row 2")
    assert "it is on file with other content; nothing was saved" in work.said
    [kept] = empty_studio.all(Work)
    assert (kept.record.title(), kept.record.notes) == ("Low Tide", ())
    assert "added" in outcomes(empty_studio, *changed, add=True)[0]
    [kept] = empty_studio.all(Work)
    # What is on file stays; only what it lacked came in.
    assert kept.record.title() == "Low Tide"
    assert [note.text for note in kept.record.notes] == ["lined"]


def test_rows_moved_about_in_the_book_are_known_again(empty_studio, small):
    rows = [{"No.": n, "Title": f"Tide {n}", "Client": "Mrs Quillan"} for n in (1, 2, 3)]
    outcomes(empty_studio, *small(*rows))
    assert outcomes(empty_studio, *small(*reversed(rows)))[0] == ["same"]


def test_the_book_itself_is_kept_once(empty_studio):
    outcomes(empty_studio, BOOK, MAPPING)
    [kept] = {
        empty_studio.ledger.read(each.document_id).source for each in empty_studio.all(Work)
    }
    assert empty_studio.ledger.file(kept).read_bytes() == BOOK.read_bytes()


# --- people --------------------------------------------------------------------------------------------


def party(studio, name, role):
    names = (PartyName(text=name, preferred=True),)
    return studio.save(Party(kind="person", names=names, roles=(role,)), who="Nell").record


def test_an_artist_on_file_by_this_very_name_is_taken(empty_studio, small):
    penhale = party(empty_studio, "A. Penhale", "role/artist")
    outcomes(empty_studio, *small({"No.": 1, "Artist": "attributed to A. Penhale"}))
    [work] = empty_studio.all(Work)
    [attribution] = work.record.attributions
    assert attribution.artist == penhale.document
    assert attribution.qualifier == "qualifier/attributed-to"


@pytest.mark.parametrize("other", ["A. PENHALE", "Ada Penhale", "A Penhale"])
def test_a_name_spelled_otherwise_is_somebody_new(empty_studio, small, other):
    penhale = party(empty_studio, "A. Penhale", "role/artist")
    outcomes(empty_studio, *small({"No.": 1, "Artist": other}))
    [work] = empty_studio.all(Work)
    assert work.record.attributions[0].artist != penhale.document


def test_two_painters_in_one_cell_are_two_attributions(empty_studio, small):
    penhale = party(empty_studio, "A. Penhale", "role/artist")
    row = {"No.": 1, "Artist": "attributed to A. Penhale and Tom Marsh"}
    outcomes(empty_studio, *small(row))
    [work] = empty_studio.all(Work)
    first, second = sorted(
        work.record.attributions, key=lambda each: each.artist != penhale.document
    )
    assert first.artist == penhale.document
    assert empty_studio.party(second.artist).record.name() == "Tom Marsh"
    assert {each.qualifier for each in (first, second)} == {"qualifier/attributed-to"}
    assert {each.written for each in (first, second)} == {row["Artist"]}
    assert outcomes(empty_studio, *small(row))[0] == ["same"]


@pytest.mark.parametrize(
    "artist", ["Penhale and Marsh", "Ada and Tom Marsh", "A. Penhale and another hand"]
)
def test_who_may_be_one_painter_or_several_stays_in_words(empty_studio, small, artist):
    [row] = empty_studio.read_book(*small({"No.": 1, "Artist": artist}), who="Nell").tried()
    assert row.work.attributions == ()
    assert row.parties == ()
    assert [note.text for note in row.work.notes] == [
        f"The artist, as the job book has it: {artist}"
    ]
    assert "one painter or several?" in row.cells[1].remarks[0]


def test_of_two_on_file_none_is_chosen(empty_studio, small):
    both = {party(empty_studio, "A. Penhale", "role/artist").document for _ in range(2)}
    [row] = empty_studio.read_book(
        *small({"No.": 1, "Artist": "A. Penhale"}), who="Nell"
    ).tried()
    assert row.work.attributions[0].artist not in both
    assert "2 on file are called so" in " ".join(row.cells[1].understood)


def test_a_client_is_not_taken_for_an_artist_of_that_name(empty_studio, small):
    party(empty_studio, "H. Marsh", "role/artist")
    book = small({"No.": 1, "Client": "H. Marsh"})
    [row] = empty_studio.read_book(*book, who="Nell").tried()
    assert "not taken for the same" in row.cells[1].understood[0]
    outcomes(empty_studio, *small({"No.": 1, "Artist": "H. Marsh", "Client": "H. Marsh"}))
    [job] = empty_studio.all(Job)
    [work] = empty_studio.all(Work)
    assert job.record.client != work.record.attributions[0].artist


def test_how_to_reach_a_new_client_goes_into_the_part_that_never_leaves(empty_studio, small):
    rows = small(
        {"No.": 1, "Client": "Mrs Quillan", "Tel": "0131 4960"},
        {"No.": 2, "Client": "Mrs Quillan", "Tel": "0131 7777"},
    )
    outcomes(empty_studio, *rows)
    [client] = [kept.record for kept in empty_studio.all(Party)]
    assert [each.text for each in client.contact.reaches] == ["0131 4960"]
    assert client.visibility == "visibility/studio"
    notes = [note.text for kept in empty_studio.all(Job) for note in kept.record.notes]
    assert any("0131 7777" in text for text in notes)
    assert outcomes(empty_studio, *rows)[0] == ["same"]


def test_what_a_job_cost_stays_with_the_job(empty_studio, small, tmp_path):
    row = {
        "No.": 1,
        "Title": "Low Tide",
        "Client": "Mrs Quillan",
        "Price": "7734",
        "Asked": "91919",
    }
    outcomes(empty_studio, *small(row))
    [job] = empty_studio.all(Job)
    assert any("7734 euro" in note.text for note in job.record.notes)
    [offer] = job.record.offers
    assert (offer.asked, offer.currency, offer.stands) == (91919, "currency/euro", False)
    empty_studio.export("full-graph", "sale", tmp_path / "out")
    told = "".join(path.read_text("utf-8") for path in (tmp_path / "out").iterdir())
    assert "Low Tide" in told
    for secret in ("7734", "91919", "Quillan"):
        assert secret not in told


# --- days ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "habits", "day"),
    [
        ("3/5/1987", {}, "1987-05-03"),
        ("3/5/1987", {"dates": "month first"}, "1987-03-05"),
        ("03.05.87", {"two_figures_from": 1950}, "1987-05-03"),
        ("3-5-49", {"two_figures_from": 1950}, "2049-05-03"),
        ("1987-05-03", {"dates": "month first"}, "1987-05-03"),
        ("3 May 1987", {}, "1987-05-03"),
        ("3. Mai 1987", {}, "1987-05-03"),
        ("31900", {"number_days": "1900"}, "1987-05-03"),
        ("30438", {"number_days": "1904"}, "1987-05-03"),
        ("31900", {}, None),
        ("60", {"number_days": "1900"}, None),
        ("3/5/87", {}, None),
        ("31/2/1987", {}, None),
        ("5/23/1987", {}, None),
        ("May 1987", {}, None),
    ],
)
def test_days_are_read_as_the_book_means_them(text, habits, day):
    found = read_day(Written(text, text), Habits(**habits), None)
    assert (found.day.iso if found.day else None) == day
    assert bool(found.why) is (day is None)


# --- mappings ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"columns": {"Title": "titel"}}, "there is no field 'titel'"),
        ({"columns": {}}, "no column is mapped"),
        ({"columns": {"A": "title", "B": "title"}}, "both go to 'title'"),
        ({"book": {"name": "x"}}, "key is missing"),
        ({"book": {"key": ["No."]}}, "name is missing"),
        ({"book": {"name": "x", "key": ["No."], "unit": "ells"}}, "unit = 'ells' is not known"),
        ({"book": {"name": "x", "key": ["No."], "merged": "up"}}, "merged = 'up' is not known"),
        ({"book": {"name": "x", "key": ["No."], "datez": "x"}}, "datez is not known"),
        ({"book": {"name": "x", "key": ["No."], "header_row": "1"}}, "header_row = '1' is not possible"),
        ({"book": {"name": "x", "key": ["No."], "currency": "groats"}}, "'groats' is not known"),
        ({"fixed": {"price": 3}}, "3 is no text"),
        ({"colums": {}}, r"\[colums\] is not known"),
        ({"columns": "Title"}, r"write \[columns\]"),
    ],
)  # fmt: skip
def test_a_mapping_that_does_not_fit_is_told_with_its_place(changes, said):
    whole = {"book": {"name": "x", "key": ["No."]}, "columns": {"Title": "title"}, "fixed": {}}
    with pytest.raises(BadSetting, match=said):
        mapping_of({**whole, **changes}, "m.toml")


def test_a_mapping_names_a_column_that_the_book_lacks(empty_studio, small):
    book, mapping = small({"No.": 1})
    mapping.write_text(mapping.read_text("utf-8").replace('"Title"', '"Titel"'), "utf-8")
    with pytest.raises(BadSetting, match="does not have: Titel"):
        empty_studio.read_book(book, mapping, who="Nell")


def test_headings_in_several_languages_find_their_fields():
    heads = [
        "Auftragsnr.",
        "Künstler",
        "Titre",
        "Misure (cm)",
        "Datum binnen",
        "Rückseite",
        "Note",
    ]
    fields = ["number", "artist", "title", "size", "came", "inscriptions-back", "notes"]
    assert list(fields_of_heads(heads).values()) == fields


# Headings of small studios: common practice, no source.
@pytest.mark.parametrize(
    ("field", "heads"),
    [
        ("came", ["Datum rein", "Gebracht am", "Reçu le", "Date d'arrivée", "Binnengekomen", "Entrato il",
                  "Date rec'd", "Brought in"]),
        ("left", ["Datum raus", "raus", "Abgeholt am", "Rendu le", "Opgehaald", "Ritirato il", "Picked up",
                  "Date back"]),
        ("due", ["Fertig bis", "Promis pour", "Klaar op", "Ready by", "Due back"]),
        ("inscriptions-back", ["Rückseite", "verso", "au dos", "Back", "Retro", "Achterzijde",
                               "Labels on the back"]),
        ("inscriptions", ["Signature, back, labels", "Aufkleber", "Étiquettes"]),
    ],
)  # fmt: skip
def test_what_small_studios_write_over_their_columns_is_known(field, heads):
    assert {head: fields_of_heads([head])[head] for head in heads} == dict.fromkeys(
        heads, field
    )


def test_of_two_columns_for_one_field_the_better_fit_has_it():
    assert fields_of_heads(["Title of the work", "Title"]) == {
        "Title of the work": "leave",
        "Title": "title",
    }


def test_a_draft_is_a_mapping_that_reads_the_book(tmp_path, empty_studio):
    made = tmp_path / "draft.toml"
    made.write_text(empty_studio.draft_mapping(BOOK, made.name), encoding="utf-8")
    mapping = mapping_from(made)
    by_hand = mapping_from(MAPPING)
    alike = [head for head, name in by_hand.columns.items() if mapping.columns[head] == name]
    assert len(alike) >= 14
    rows = list(empty_studio.read_book(BOOK, made, who="Nell").tried())
    assert sum(row.outcome == "new" for row in rows) >= 55


def test_merged_clients_are_filled_down_where_the_mapping_says_so(tmp_path, empty_studio):
    book = openpyxl.Workbook()
    for row in (["No.", "Title", "Client"], [1, "Boats", "Mrs Quillan"], [2, "Gulls", None]):
        book.active.append(row)
    book.active.merge_cells("C2:C3")
    book.save(tmp_path / "jobs.xlsx")
    columns = '[columns]\n"No." = "number"\n"Title" = "title"\n"Client" = "client"\n'
    for setting, clients in (("", 1), ('merged = "fill"\n', 2)):
        mapping = tmp_path / "m.toml"
        mapping.write_text(f'[book]\nname = "m"\nkey = ["No."]\n{setting}{columns}', "utf-8")
        rows = list(empty_studio.read_book(tmp_path / "jobs.xlsx", mapping, who="Nell").tried())
        assert sum(bool(row.job and row.job.client) for row in rows) == clients
    assert any("filled down" in remark for cell in rows[1].cells for remark in cell.remarks)


def test_a_draft_finds_the_row_of_the_headings_and_the_order_of_days(tmp_path):
    book = openpyxl.Workbook()
    for row in (["Hollis studio, jobs"], [], ["No.", "Title", "Date in", "H (in)"],
                [1, "Boats", "5/23/1987", 24], [2, "Gulls", "6/1/1987", 20]):  # fmt: skip
        book.active.append(row)
    book.save(tmp_path / "jobs.xlsx")
    mapping = drafted(tmp_path / "jobs.xlsx").mapping
    assert mapping.layout.header_row == 3
    assert mapping.key == ("No.",)
    assert mapping.habits.dates == "month first"
    assert mapping.habits.unit == "in"


def test_a_table_that_dorse_wrote_comes_back_with_its_texts(tmp_path, empty_studio, small):
    outcomes(
        empty_studio, *small({"No.": 1, "Title": "=Sunset"}, {"No.": 2, "Title": "'tis done"})
    )
    empty_studio.export("csv", "full", tmp_path / "out")
    table = tmp_path / "out" / "works.csv"
    mapping = tmp_path / "works.toml"
    mapping.write_text(empty_studio.draft_mapping(table), encoding="utf-8")
    with Studio.open("memory:") as other:
        told = list(other.read_book(table, mapping, who="Nell").taken())
        assert {each.outcome for each in told} == {"new"}
        assert {kept.record.title() for kept in other.all(Work)} == {"=Sunset", "'tis done"}


# --- sides, cells that say nothing, totals -------------------------------------------------------------------


@pytest.fixture
def book_of(tmp_path, empty_studio):
    """Reads a book of these headings, fields and rows; gives its rows, and what is told of the book."""

    def read(columns, *rows):
        book, mapping = tmp_path / "b.csv", tmp_path / "b.toml"
        lines = [";".join(columns), *(";".join(row) for row in rows)]
        book.write_text("\n".join(lines), encoding="utf-8")
        said = [
            f"{json.dumps(head)} = {json.dumps(name)}" for head, name in columns.items() if name
        ]
        key = json.dumps(next(iter(columns)))
        mapping.write_text(
            "\n".join(["[book]", 'name = "b"', f"key = [{key}]", "[columns]", *said]), "utf-8"
        )
        taking = empty_studio.read_book(book, mapping, who="Nell")
        return list(taking.tried()), taking.book.told

    return read


@pytest.mark.parametrize(
    ("head", "field", "text", "face"),
    [
        ("Rückseite", "inscriptions-back", "Stempel HOLLIS", "face/back"),
        ("verso", "inscriptions", "stamp HOLLIS", "face/back"),
        ("dos", "inscriptions", 'signed "A. Penhale"', "face/back"),
        ("Hinten drauf", "inscriptions-back", "stamp HOLLIS", "face/back"),
        # What the words say goes before what the column says.
        ("Back", "inscriptions-back", "signed lower right on the front: A. P.", "face/front"),
        # A column of more than the back says nothing of where.
        ("Signature, back, labels", "inscriptions", "stamp HOLLIS", "face/other"),
        ("recto verso", "inscriptions", "stamp HOLLIS", "face/other"),
        ("Marks", "inscriptions", "stamp HOLLIS", "face/other"),
    ],
)
def test_what_stands_in_a_column_of_the_back_is_on_the_back(book_of, head, field, text, face):
    [row], _ = book_of({"No.": "number", head: field}, ("1", text))
    assert [each.face for each in row.work.inscriptions] == [face]
    told = any("as its column says" in remark for cell in row.cells for remark in cell.remarks)
    assert told is (face == "face/back")


def test_words_about_the_back_that_are_not_understood_are_kept_as_such(book_of):
    [row], _ = book_of({"No.": "number", "Verso": "inscriptions-back"}, ("1", "???!"))
    assert row.cells[-1].rest == "???!"
    assert [note.text for note in row.work.notes] == [
        "On the back, as the job book has it: ???!"
    ]


def test_columns_that_go_nowhere_are_told_first_and_once(book_of):
    columns = {"No.": "number", "Title": "title", "Van": "leave", "Weather": ""}
    rows, told = book_of(columns, ("1", "Boats", "red", "rain"), ("2", "Gulls", "blue", ""))
    assert told[0].endswith(": Van, Weather")
    assert sum("Weather" in each for each in told) == 1
    assert {cell.column for row in rows for cell in row.cells} == {"No.", "Title"}


def test_a_cell_that_goes_somewhere_is_understood_or_left_over(book_of):
    columns = {
        "No.": "number", "Provenance": "provenance", "In": "came", "Size": "size", "By": "artist",
        "Marks": "inscriptions", "Price": "price",
    }  # fmt: skip
    [row], _ = book_of(columns, ("1", "?", "-", "?", "?", "??", "x"))
    cells = {cell.column: cell for cell in row.cells}
    assert set(cells) == set(columns)
    rests = {name: cell.rest for name, cell in cells.items() if cell.rest}
    assert rests == {"Provenance": "?", "Size": "?", "By": "?", "Marks": "??", "Price": "x"}
    # A stroke says that there is nothing, and that is understood.
    assert cells["In"].understood == ("nothing",)


# The words for a total: common practice, no source.
@pytest.mark.parametrize(
    ("cells", "total"),
    [
        (("Summe", "", "", "650"), True),
        (("Total 1987:", "", "", "£650"), True),
        (("", "Totaal excl. btw", "", "€ 650,00"), True),
        (("", "", "Zwischensumme", "650"), True),
        (("", "", "", "1.250,00"), True),
        (("12", "Total", "", "650"), False),
        (("12", "", "", "650"), False),
        (("Total Eclipse", "", "", "650"), False),
        (("Total", "Boats", "A. Penhale", "650"), False),
        (("", "1987", "", ""), False),
        (("", "Boats", "", "650"), False),
    ],
)
def test_a_row_that_adds_up_others_becomes_no_work(book_of, cells, total):
    columns = {"No.": "number", "Title": "title", "Artist": "artist", "Price": "price"}
    [row], _ = book_of(columns, cells)
    assert ("adds up others" in row.refused) is total
    assert bool(row.work) is (not total and bool(cells[0]))


NOTE = "Dear Mrs Quillan,\nthe mill is ready, and the boats, too.\nWith love, Nell\n"


@pytest.mark.parametrize(
    "text", [NOTE, "", "Boats", "one line; and no more\nthan that\nhere\n"]
)
def test_a_text_that_is_no_table_is_told_to_be_none(empty_studio, tmp_path, text):
    note = tmp_path / "note.txt"
    note.write_text(text, encoding="utf-8")
    with pytest.raises(BadDocument, match=r"note\.txt is a text, and no table"):
        empty_studio.draft_mapping(note)
    assert not empty_studio.is_book(note)


@pytest.mark.parametrize("sign", ["\t", ";", ",", "|"])
def test_a_table_in_a_text_is_a_book(empty_studio, tmp_path, sign):
    book = tmp_path / "jobs.txt"
    rows = ("No.", "Title", "In"), ("1", "Boats", "3.5.1987"), ("2", "Gulls", "")
    book.write_text("\n".join(sign.join(row) for row in rows), encoding="utf-8")
    assert empty_studio.is_book(book)
    assert '"Title" = "title"' in empty_studio.draft_mapping(book)


# --- a book that breaks off, and the command ---------------------------------------------------------------


def test_a_book_that_breaks_off_gives_the_rows_before(empty_studio, small):
    book, mapping = small({"No.": 1, "Title": "Low Tide"})
    book.write_text(book.read_text("utf-8") + '\n2;"open\n3;Boats\n', "utf-8")
    rows = list(empty_studio.read_book(book, mapping, who="Nell").tried())
    assert [row.outcome for row in rows] == ["new", "refused"]
    assert "quotation mark" in rows[1].refused


def test_what_is_no_book_is_refused_in_words(empty_studio, small, tmp_path):
    _, mapping = small({"No.": 1})
    for content in (b"", b"PK\x03\x04", b"\xd0\xcf\x11\xe0" + bytes(600), bytes(5000)):
        other = tmp_path / "other.xlsx"
        other.write_bytes(content)
        with pytest.raises((BadDocument, BadSetting)):
            empty_studio.read_book(other, mapping, who="Nell")


@pytest.fixture
def dorse(tmp_path):
    def run(*words, exit_code=0):
        told = CliRunner().invoke(
            main, ["--studio", str(tmp_path / "studio"), "--who", "Nell", *map(str, words)]
        )
        assert told.exit_code == exit_code, told.output
        return told

    run("init")
    return run


def test_the_command_drafts_tries_and_takes_in(dorse, tmp_path):
    draft = tmp_path / "draft.toml"
    dorse("import", BOOK, "--draft-mapping", draft)
    dorse("import", BOOK, "--draft-mapping", draft, exit_code=1)  # never over a file
    told = dorse("import", BOOK, "--mapping", MAPPING, "--dry-run", exit_code=1).output
    assert "row 2  87/1  new" in told
    assert "= signature, front lower right: A. Penhale / 1887" in told
    assert "left over: plus VAT" in told
    rows = dorse(
        "import", BOOK, "--mapping", MAPPING, "--dry-run", "--json", exit_code=1
    ).stdout
    first = json.loads(rows.splitlines()[0])
    assert first["cells"][0] == {
        "column": "Nr.", "field": "number", "text": "87/1", "understood": ["entry number 87/1"],
        "rest": "", "remarks": [],
    }  # fmt: skip
    assert dorse("import", BOOK, "--mapping", MAPPING, exit_code=1).output.endswith(
        "150 new, 3 refused\n"
    )
    assert dorse("search", "Mühle").output


def test_trying_a_book_begins_with_the_columns_that_go_nowhere(dorse, tmp_path):
    book, mapping = tmp_path / "b.csv", tmp_path / "b.toml"
    book.write_text("No.;Title;Van\n1;Boats;red\nTotal;;7\n", "utf-8")
    dorse("import", book, "--draft-mapping", mapping)
    told = dorse("import", book, "--mapping", mapping, "--dry-run", exit_code=1).stdout
    assert "go nowhere" in told.splitlines()[0]
    assert told.splitlines()[0].endswith(": Van")
    assert told.count("go nowhere") == 1
    assert "row 3  Total  refused\n  ! a row that adds up others" in told
    data = dorse("import", book, "--mapping", mapping, "--dry-run", "--json", exit_code=1)
    assert [json.loads(line)["row"] for line in data.stdout.splitlines()] == [2, 3]
    assert "go nowhere" in data.stderr


def test_the_command_asks_for_a_mapping(dorse):
    told = dorse("import", BOOK, exit_code=1)
    assert "--draft-mapping" in told.output
    dorse("import", BOOK, "--dry-run", exit_code=2)
    dorse("import", BOOK, BOOK, "--mapping", MAPPING, exit_code=2)
