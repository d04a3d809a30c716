"""What is wrong, missing or open about a record, in words.

The shapes of vocab/shapes hold the stored document; the other modules hold the record against itself
and against what is around it, with the words of vocab/checks.toml. It advises; nothing is refused.
"""

from __future__ import annotations

from catalogue.checking.checking import Around, of_record, out_of_range, remarks, remarks_of_job
from catalogue.checking.remark import Remark

__all__ = ["Around", "Remark", "of_record", "out_of_range", "remarks", "remarks_of_job"]
