"""Drafts by machine: printed lines found on a photograph and spelled out, for a person to read against.

A draft is never a reading. It lies in the folder of what can be made again, under the photograph's digest:
never in a record, never in the ledger, an index or an export.

engine.py   the engine: loaded on first use, one in a process, nothing ever fetched
upright.py  the part of the photograph that is read, set upright
draft.py    what came of it: lines with their boxes, letters with how sure the engine was
spelling.py lines as markup that a person can go on from
keeping.py  where drafts lie
"""

from __future__ import annotations

from catalogue.drafting.draft import Line, MachineDraft
from catalogue.drafting.keeping import drafted, drafted_from, drafted_picture
from catalogue.drafting.spelling import as_markup, rows

__all__ = [
    "Line",
    "MachineDraft",
    "as_markup",
    "drafted",
    "drafted_from",
    "drafted_picture",
    "rows",
]
