"""The drawing of the samples is a script beside its modules, not a package: find it there."""

from __future__ import annotations

import sys

from catalogue.places import folder

sys.path.insert(0, str(folder("sample_records")))
