"""dorse: what is written on the backs of paintings, what was done to them, and what that proves.

`open_studio(path)` is the one door; every verb of the tool is a method of the `Studio` it returns.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from catalogue.studio import Studio

__version__ = "0.1.0"
__all__ = ["__version__", "open_studio"]


def open_studio(path_or_url: str) -> Studio:
    """The studio kept in the folder `path_or_url` (or `memory:` for one that is forgotten on closing).

    Raises `NoStudio` when the folder holds none. The import waits until the call, so that
    `dorse --help` need not load what only an open studio uses.
    """
    from catalogue.studio import Studio

    return Studio.open(path_or_url)
