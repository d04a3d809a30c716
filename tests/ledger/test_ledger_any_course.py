"""Whatever is done in whatever order, the ledger says what a plain dictionary says, and verifies."""

from __future__ import annotations

from contextlib import suppress

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
)

from catalogue.errors import BadData, NotOnFile, StaleRevision
from catalogue.ledger import Ledger

documents = st.sampled_from(["work/a", "work/b", "party/c", "party/d"])
texts = st.binary(min_size=1, max_size=40)


class Course(RuleBasedStateMachine):
    """One change a step; beside it what must be so afterwards."""

    @initialize()
    def begin(self):
        self.ledger = Ledger.create(None)
        self.saved: dict[str, list[bytes | None]] = {}
        self.withdrawn: set[str] = set()
        self.into: dict[str, str] = {}
        self.given: set[int] = set()
        self.heads: list[str] = []

    def teardown(self):
        self.ledger.close()

    def change(self):
        return self.ledger.change(who="N. Feld", why="some course")

    @rule(document=documents, text=texts)
    def save(self, document, text):
        known = len(self.saved.get(document, [])) or None
        try:
            with self.change() as change:
                change.save(document, text, expected=known)
        except StaleRevision:
            assert document in self.into
        else:
            assert document not in self.into
            self.saved.setdefault(document, []).append(text)

    @rule(document=documents, text=texts)
    def save_what_moved_on(self, document, text):
        later = len(self.saved.get(document, [])) + 1
        with suppress(StaleRevision, NotOnFile), self.change() as change:
            change.number("work")
            change.save(document, text, expected=later)
            raise AssertionError

    @rule(document=documents, text=texts)
    def think_better_of_it(self, document, text):
        with suppress(ZeroDivisionError), self.change() as change:
            change.number("work")
            change.keep_file(text, name="a", media_type="b")
            change.save(f"{document}-not", text, expected=None)
            raise ZeroDivisionError

    @rule(claimed=st.integers(1, 30))
    def claim(self, claimed):
        try:
            with self.change() as change:
                change.claim("work", claimed)
        except BadData:
            assert claimed in self.given
        else:
            assert claimed not in self.given
            self.given.add(claimed)

    @rule()
    def number(self):
        with self.change() as change:
            number = change.number("work")
        assert number == max(self.given, default=0) + 1
        self.given.add(number)

    @precondition(lambda self: self.saved)
    @rule(pick=st.data())
    def withdraw_or_reinstate(self, pick):
        document = pick.draw(st.sampled_from(sorted(self.saved)))
        with self.change() as change:
            if document in self.withdrawn:
                change.reinstate(document)
            else:
                change.withdraw(document)
        self.withdrawn ^= {document}

    @precondition(lambda self: len(self.saved) > 1)
    @rule(pick=st.data())
    def merge_or_unmerge(self, pick):
        document, into = pick.draw(
            st.lists(st.sampled_from(sorted(self.saved)), min_size=2, max_size=2, unique=True)
        )
        with suppress(BadData):
            with self.change() as change:
                if document in self.into:
                    change.unmerge(document)
                else:
                    change.merge(document, into)
            if document in self.into:
                del self.into[document]
            else:
                self.into[document] = into

    @precondition(lambda self: self.saved)
    @rule(pick=st.data())
    def forget(self, pick):
        document = pick.draw(st.sampled_from(sorted(self.saved)))
        revisions = self.saved[document]
        which = pick.draw(st.integers(1, len(revisions)))
        with self.change() as change:
            change.forget_revisions(document, [which])
        revisions[which - 1] = None

    @invariant()
    def nothing_is_other_than_saved(self):
        verdict = self.ledger.verify()
        assert verdict.faults == ()
        assert verdict.notes == ()
        listed = [
            document
            for document in sorted(self.saved)
            if document not in self.withdrawn and document not in self.into
        ]
        assert [head.document for head in self.ledger.heads()] == listed
        current = {kept.document: kept.body for kept in self.ledger.bodies()}
        assert current == {
            d: self.saved[d][-1] for d in listed if self.saved[d][-1] is not None
        }
        gone = sum(text is None for revisions in self.saved.values() for text in revisions)
        assert len(verdict.forgotten) == gone

    @invariant()
    def the_chain_only_grows(self):
        chain = [change.digest for change in self.ledger.changes()]
        assert chain[: len(self.heads)] == self.heads
        self.heads = chain


TestCourse = Course.TestCase
TestCourse.settings = settings(
    max_examples=40,
    stateful_step_count=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
