"""Old job books taken in: each row of a spreadsheet as a work, a job and the people it names.

    told.py      what came of a cell and of a row, for whoever looks before anything is saved
    entry.py     one row being read: what goes into the work, what into the job
    days.py      days of arrival and departure, in the order and the century that the book means
    sizes.py     sizes, in one column or in three
    sums.py      what a job cost, what was asked
    prose.py     inscriptions and provenance in a cataloguer's words
    people.py    artists, clients, owners: on file by this very name, or new
    cells.py     the table of fields, and what reads each
    rows.py      rows, one after another
    guessing.py  a mapping drafted from headings and what stands beneath them
    taking.py    rows as documents: tried, or taken in

What a file is and how it is cut into cells is `exchange`'s (`csv_books`, `xlsx_books`, `book_mapping`).
"""
