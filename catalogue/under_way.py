"""Work that takes long: one errand after the other in the background, each told of, each may be left.

Every errand has a folder of its own in the studio's, with a note of what it is. A note that still says
"under way" when the desk is opened tells of an errand that was broken off: what it had half done is
thrown away, and it is told as not finished.
"""

from __future__ import annotations

import json
import logging
import re
import secrets
import shutil
import threading
import time
from collections.abc import Callable, Mapping
from contextlib import ExitStack, suppress
from dataclasses import asdict, dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, Literal, TypeAlias

from catalogue.errors import Busy, CatalogueError, NotOnFile
from catalogue.indexes.lock import locked

FOLDER: Final = "under-way"
NOTE: Final = "errand.json"
LOCK: Final = "desk.lock"
KEPT: Final = 20
"""So many errands that are over are remembered, with what they made; older ones are thrown away."""
KEPT_SECONDS: Final = 24 * 3600
WAITING: Final = 30
PATIENCE_SECONDS: Final = 5.0
"""So long a desk that is closed waits for an errand to come to a place where it can stop."""

State: TypeAlias = Literal["waiting", "under way", "done", "failed", "stopped", "not finished"]
_LIVE: Final = ("waiting", "under way")
_TOKEN = re.compile(r"[0-9a-f]{32}")


class StopAsked(Exception):
    """Somebody asked to stop; raised where an errand says how far it is, so that it lets everything go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """What an errand came to, in words; the page `where` it leads on, or a `file` to be fetched."""

    says: str
    where: str | None = None
    file: Path | None = None
    file_name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Errand:
    """An errand as it stands: what it is for, who began it, how far it is, what it came to.

    `done` of `total` pieces, 0 for nobody knows; `again` is the page on which one begins it, `held` what
    was typed there. `refused` is why it failed, as long as the desk that saw it is open.
    """

    token: str
    says: str
    who: str
    begun: str
    state: State = "waiting"
    ended: str = ""
    done: int = 0
    total: int = 0
    now: str = ""
    can_stop: bool = True
    stop_asked: bool = False
    again: str = ""
    held: Mapping[str, str] = field(default_factory=dict)
    landing: Landing | None = None
    went_wrong: str = ""
    remedy: str = ""
    refused: CatalogueError | None = None

    @property
    def is_over(self) -> bool:
        """Whether nothing more happens to it.

        >>> Errand(token="", says="every label drawn", who="N. Feld", begun="").is_over
        False
        """
        return self.state not in _LIVE

    @property
    def percent(self) -> int | None:
        """How far it is, None where nobody knows how much there is to do.

        >>> Errand(token="", says="", who="", begun="", done=3, total=8).percent
        37
        """
        return min(100 * self.done // self.total, 100) if self.total > 0 else None


class Progress:
    """What an errand is handed: called with how many pieces are done, of how many.

    It raises `StopAsked` when somebody wished that. `folder` is a place of the errand's own: what lies
    there stays while the errand is remembered if it went well, and is thrown away if it did not.
    """

    def __init__(self, folder: Path, tell: Callable[[Mapping[str, Any]], bool]) -> None:
        self.folder = folder
        self._tell = tell

    def __call__(self, done: int, total: int = 0) -> None:
        """Say how far it is."""
        self._told(done=done, total=total)

    def says(self, words: str) -> None:
        """Say what is done just now."""
        self._told(now=words)

    def no_way_back(self, words: str) -> None:
        """Say what is done just now, and that from here on it comes to its end."""
        self._told(now=words, can_stop=False)

    def _told(self, **facts: Any) -> None:
        if self._tell(facts):
            raise StopAsked


Task: TypeAlias = Callable[[Progress], Landing]


class UnderWay:
    """The errands of one studio. Any thread may call it; one errand runs at a time."""

    def __init__(self, studio: Path) -> None:
        self._folder = studio / FOLDER
        self._lock = threading.RLock()
        self._errands: dict[str, Errand] = {}
        self._tasks: list[tuple[str, Task]] = []
        self._worker: threading.Thread | None = None
        self._closing = False
        self._held = ExitStack()
        # A second desk of this studio leaves alone what the first has under way.
        if self._folder.is_dir() and self._is_ours():
            self._look_back()

    def begin(
        self,
        says: str,
        who: str,
        task: Task,
        *,
        can_stop: bool = True,
        again: str = "",
        held: Mapping[str, str] = MappingProxyType({}),
    ) -> Errand:
        """Put an errand at the end of the row. Raises `Busy` when too many wait already.

        `can_stop` is False for one that must not be broken off between its pieces.
        """
        errand = Errand(
            token=secrets.token_hex(16), says=says, who=who, begun=_now(), can_stop=can_stop,
            again=again, held=dict(held),
        )  # fmt: skip
        with self._lock:
            if len(self._tasks) >= WAITING:
                raise Busy(
                    f"{WAITING} pieces of work are waiting already",
                    remedy="wait until some of them are done",
                )
            if not self._folder.is_dir():
                self._is_ours()
            self._folder_of(errand.token).mkdir(parents=True)
            self._keep(errand)
            self._tasks.append((errand.token, task))
            self._forget_old()
            if self._worker is None:
                self._worker = threading.Thread(target=self._work, name=FOLDER, daemon=True)
                self._worker.start()
        return errand

    def all(self) -> tuple[Errand, ...]:
        """Every errand that is remembered: those under way, those waiting, then those over, latest first."""
        with self._lock:
            found = tuple(self._errands.values())
        live = [each for each in found if not each.is_over]
        over = sorted(
            (each for each in found if each.is_over), key=lambda each: each.ended, reverse=True
        )
        return (*live, *over)

    def one(self, token: str) -> Errand:
        """An errand by its token. Raises `NotOnFile`."""
        with self._lock:
            found = self._errands.get(token)
        if found is None:
            raise NotOnFile(
                "this piece of work is not remembered any more", remedy="begin it again"
            )
        return found

    def stop(self, token: str) -> Errand:
        """Ask an errand to stop; one that waits is out of the row at once."""
        with self._lock:
            errand = self.one(token)
            if errand.is_over or not errand.can_stop:
                return errand
            waits = [each for each in self._tasks if each[0] == token]
            if not waits:
                return self._keep(replace(errand, stop_asked=True))
            self._tasks.remove(waits[0])
            return self._over(replace(errand, state="stopped", stop_asked=True))

    def drop(self, token: str) -> None:
        """Throw away an errand that is over, and what it made."""
        with self._lock:
            if self.one(token).is_over:
                del self._errands[token]
                shutil.rmtree(self._folder_of(token), ignore_errors=True)

    def wait(self, seconds: float = 60) -> None:
        """Wait until nothing is under way, or so long."""
        worker = self._worker
        if worker is not None:
            worker.join(seconds)

    def close(self) -> None:
        """Ask what is under way to stop and wait for it a little; it is told as not finished next time."""
        with self._lock:
            self._closing = True
            self._tasks.clear()
        self.wait(PATIENCE_SECONDS)
        self._held.close()

    # --- the row ------------------------------------------------------------------------------------

    def _work(self) -> None:
        while True:
            with self._lock:
                if not self._tasks or self._closing:
                    self._worker = None
                    return
                token, task = self._tasks.pop(0)
                self._keep(replace(self._errands[token], state="under way"))
            self._do(token, task)

    def _do(self, token: str, task: Task) -> None:
        came_to: dict[str, Any]
        try:
            landing = task(
                Progress(self._folder_of(token), lambda facts: self._told(token, facts))
            )
            came_to = {"state": "done", "landing": landing}
        except StopAsked:
            if self._closing:
                return
            came_to = {"state": "stopped"}
        except CatalogueError as refused:
            came_to = {
                "state": "failed", "went_wrong": str(refused.args[0]),
                "remedy": refused.remedy, "refused": refused,
            }  # fmt: skip
        except Exception as fault:
            # The last door of this thread: whatever it is, somebody must be told, and the next one runs.
            logging.getLogger(__name__).exception("an errand failed: %s", token)
            came_to = {
                "state": "failed",
                "went_wrong": f"it broke off for a reason nobody foresaw ({type(fault).__name__}: {fault})",
                "remedy": "nothing half done was kept; begin it again, and if it breaks off again "
                "say so to whoever looks after this computer",
            }
        with self._lock:
            self._over(replace(self._errands[token], **came_to))

    def _told(self, token: str, facts: Mapping[str, Any]) -> bool:
        with self._lock:
            errand = self._errands[token] = replace(self._errands[token], **facts)
        return errand.can_stop and (errand.stop_asked or self._closing)

    def _over(self, errand: Errand) -> Errand:
        if errand.state != "done":
            _empty(self._folder_of(errand.token))
        return self._keep(replace(errand, ended=_now()))

    # --- what is remembered -------------------------------------------------------------------------

    def _is_ours(self) -> bool:
        """Whether no other desk has this studio open; none can take it while we hold the lock."""
        try:
            self._held.enter_context(locked(self._folder / LOCK))
        except CatalogueError:
            return False
        return True

    def _folder_of(self, token: str) -> Path:
        return self._folder / token

    def _keep(self, errand: Errand) -> Errand:
        self._errands[errand.token] = errand
        folder = self._folder_of(errand.token)
        # Whoever waits for the errand is not to lose it because its note could not be written.
        with suppress(OSError):
            half = folder / f"{NOTE}.new"
            half.write_text(_written(errand), "utf-8")
            half.replace(folder / NOTE)
        return errand

    def _forget_old(self) -> None:
        over = sorted(
            (each for each in self._errands.values() if each.is_over),
            key=lambda each: each.ended,
        )
        old = [each for each in over if _age_seconds(each) > KEPT_SECONDS]
        for each in {each.token: each for each in (*old, *over[: -KEPT or None])}.values():
            self.drop(each.token)

    def _look_back(self) -> None:
        """Take up what an earlier desk left: done is done, what was broken off is not finished."""
        for folder in sorted(each for each in self._folder.iterdir() if each.is_dir()):
            errand = _read(folder)
            if errand is None:
                shutil.rmtree(folder, ignore_errors=True)
            elif errand.is_over:
                self._errands[errand.token] = errand
            else:
                self._over(replace(errand, state="not finished", stop_asked=False))
        self._forget_old()


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


def _age_seconds(errand: Errand) -> float:
    return time.time() - datetime.fromisoformat(errand.ended).timestamp()


def _empty(folder: Path) -> None:
    for each in folder.iterdir() if folder.is_dir() else ():
        if each.is_dir():
            shutil.rmtree(each, ignore_errors=True)
        elif each.name != NOTE:
            each.unlink(missing_ok=True)


def _written(errand: Errand) -> str:
    facts = asdict(replace(errand, held={}, refused=None))
    facts.pop("refused")
    facts["held"] = dict(errand.held)
    if errand.landing is not None:
        facts["landing"]["file"] = errand.landing.file.name if errand.landing.file else None
    return json.dumps(facts, ensure_ascii=False, indent=1)


def _read(folder: Path) -> Errand | None:
    """The errand whose note lies in a folder, None where it cannot be read."""
    try:
        facts = json.loads((folder / NOTE).read_text("utf-8"))
        landing = facts.pop("landing", None)
        if landing is not None:
            file = folder / landing["file"] if landing["file"] else None
            landing = Landing(**{**landing, "file": file})
        errand = Errand(**facts, landing=landing)
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return None
    # Its file has to lie where it says, else there is nothing to fetch.
    lost = landing is not None and landing.file is not None and not landing.file.is_file()
    named = errand.token == folder.name and _TOKEN.fullmatch(errand.token)
    return errand if named and not lost and bool(errand.ended) >= errand.is_over else None
