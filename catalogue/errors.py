"""What can go wrong, in one family, each message written for the person at the easel.

    CatalogueError
    ├── BadData (ValueError)         what was given cannot be kept as it is
    │   ├── MarkupError              this can't be a label at all
    │   ├── BadDocument              a document that is not what it should be, and where
    │   ├── UnknownContext           a JSON-LD context that is not on this machine
    │   ├── UnknownTerm (LookupError)  a word that vocab/ does not hold
    │   ├── BadPicture               a file that cannot be taken in as a photograph
    │   ├── Stopped                  a rule of the order of work stops a step
    │   ├── NeedsDocument            heavy words about a past, and no document for them
    │   ├── MayNotLeave              finished files hold what stays in the house; nothing left
    │   └── BadSetting               a setting, profile or format that does not exist
    ├── NotOnFile (LookupError)      asked for something that is not there
    ├── NoStudio (FileNotFoundError) the folder holds no studio
    ├── StaleRevision (RuntimeError) the same value was changed by somebody else
    ├── Busy (RuntimeError)          another process is at work; try again
    ├── CannotSave (OSError)         the disk refused; nothing was saved
    └── Damaged (RuntimeError)       what is kept is not what was saved

Each says what, where and what to do; the attributes are for the program.
"""

from __future__ import annotations


class CatalogueError(Exception):
    """The family. `remedy` is what the person can do, "" when the message already says it."""

    def __init__(self, message: str, *, remedy: str = "") -> None:
        super().__init__(message)
        self.remedy = remedy

    def __str__(self) -> str:
        said = super().__str__()
        return f"{said}\n  {self.remedy}" if self.remedy else said


class BadData(CatalogueError, ValueError):
    """What was given cannot be kept as it is."""


class MarkupError(BadData):
    """This can't be a label: it is not text, or over 1 MB."""


class BadDocument(BadData):
    """A document that is not what it should be; `where` is the place in it, nothing for all of it.

    >>> str(BadDocument("it holds no records")), str(BadDocument("no size", where="/dimension/0"))
    ('it holds no records', '/dimension/0: no size')
    """

    def __init__(self, message: str, *, where: str = "", remedy: str = "") -> None:
        super().__init__(f"{where}: {message}" if where else message, remedy=remedy)
        self.where = where


class UnknownContext(BadData):
    """A JSON-LD context that is not on this machine; dorse never fetches one."""


class UnknownTerm(BadData, LookupError):
    """A word that vocab/ does not hold."""


class BadPicture(BadData):
    """A file that cannot be taken in as a photograph."""


class Stopped(BadData):
    """A rule of the order of work stops a step; nothing was saved.

    `rule` is the rule's key, `refusals` are all of them where there are several.
    """

    def __init__(
        self,
        message: str,
        *,
        rule: str = "",
        refusals: tuple[Stopped, ...] = (),
        remedy: str = "",
    ) -> None:
        super().__init__(message, remedy=remedy)
        self.rule = rule
        self.refusals = refusals

    def __str__(self) -> str:
        return "\n".join([super().__str__(), *(f"- {each}" for each in self.refusals)])


class NeedsDocument(BadData):
    """Words such as "confiscated" that nobody writes without a document of the first grade."""


class MayNotLeave(BadData):
    """Finished files of an export hold what stays in the house; nothing left.

    `hits` are the places, `allowable` the names among them that somebody may allow this once.
    """

    def __init__(
        self,
        message: str,
        *,
        hits: tuple[object, ...] = (),
        allowable: tuple[str, ...] = (),
        remedy: str = "",
    ) -> None:
        super().__init__(message, remedy=remedy)
        self.hits = hits
        self.allowable = allowable


class BadSetting(BadData):
    """A setting, profile or format that does not exist."""


class NotOnFile(CatalogueError, LookupError):
    """Asked for something that is not there."""


class NoStudio(CatalogueError, FileNotFoundError):
    """The folder holds no studio."""


class StaleRevision(CatalogueError, RuntimeError):
    """The same value was changed by somebody else since it was read.

    `mine` and `theirs` are the two values; nothing was saved.
    """

    def __init__(
        self, message: str, *, mine: object = None, theirs: object = None, remedy: str = ""
    ) -> None:
        super().__init__(message, remedy=remedy)
        self.mine = mine
        self.theirs = theirs


class Busy(CatalogueError, RuntimeError):
    """Another process is at work on the same studio; nothing was changed."""


class CannotSave(CatalogueError, OSError):
    """The disk refused (full, read-only, gone); nothing was saved."""


class Damaged(CatalogueError, RuntimeError):
    """What is kept is not what was saved."""
