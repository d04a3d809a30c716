"""The record as linked data, and back: JSON-LD documents, their addresses, strict Linked Art."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from catalogue.linked.documents import from_jsonld, to_jsonld

__all__ = ["from_jsonld", "to_jsonld"]

if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        # the modules below import each other through this room, so it is not loaded with them
        if name in __all__:
            from catalogue.linked import documents

            return getattr(documents, name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
