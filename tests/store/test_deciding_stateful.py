"""Any run of decisions, undos, redos and restarts, against a plain model of an undo history."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from made_sheets import THREE, over, reading

from extract.claims import Claim
from store.library import Library
from store.records import ClaimStatus

State = dict[int, tuple[ClaimStatus, Claim]]

PICK = st.lists(st.integers(0, 50), min_size=1, max_size=4)


class Decisions(RuleBasedStateMachine):
    """past holds the state before each step that can be undone, future the state after each that can be redone."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="decisions-"))
        self.library = Library.open(self.folder)
        self.sheet_id = self.library.file_sheet(b"one", "g.pdf", [reading(THREE)])[0].sheet.id
        self.past: list[State] = []
        self.future: list[State] = []
        self.now = self.seen()
        self.printed = {i: claim for i, (_, claim) in self.now.items()}

    def teardown(self) -> None:
        self.library.close()
        shutil.rmtree(self.folder)

    def seen(self) -> State:
        return {c.id: (c.status, c.claim) for c in self.library.claims(self.sheet_id)}

    def chosen(self, picks: list[int]) -> list[int]:
        ids = sorted(self.now)
        return [ids[pick % len(ids)] for pick in picks]

    def step_to(self, then: State) -> None:
        if then != self.now:
            self.past.append(self.now)
            self.future.clear()
            self.now = then

    @rule(picks=PICK)
    def confirm(self, picks: list[int]) -> None:
        ids = self.chosen(picks)
        self.library.confirm(ids)
        open_ones = [i for i in ids if self.now[i][0] in (ClaimStatus.PROPOSED, ClaimStatus.REJECTED)]
        self.step_to(self.now | {i: (ClaimStatus.CONFIRMED, self.printed[i]) for i in open_ones})

    @rule(picks=PICK)
    def reject(self, picks: list[int]) -> None:
        ids = self.chosen(picks)
        self.library.reject(ids)
        self.step_to(self.now | {i: (ClaimStatus.REJECTED, self.printed[i]) for i in ids})

    @rule(pick=st.integers(0, 50), high=st.sampled_from([120.0, 4320.0]))
    def correct(self, pick: int, high: float) -> None:
        (claim_id,) = self.chosen([pick])
        claim = replace(self.printed[claim_id], high=high)
        self.library.correct(claim_id, claim)
        self.step_to(self.now | {claim_id: (ClaimStatus.CORRECTED, claim)})

    @rule(kind=st.sampled_from(["surface.zinc", "filler"]))
    def add(self, kind: str) -> None:
        (added,) = self.library.add_claim(self.sheet_id, over(kind, "Apply to clean bare steel"))
        self.printed[added.id] = added.claim
        self.step_to(self.now | {added.id: (ClaimStatus.CONFIRMED, added.claim)})

    @precondition(lambda self: self.past)
    @rule()
    def undo(self) -> None:
        self.library.undo()
        self.future.append(self.now)
        self.now = self.past.pop()

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        self.library.redo()
        self.past.append(self.now)
        self.now = self.future.pop()

    @rule()
    def restart(self) -> None:
        self.library.close()
        self.library = Library.open(self.folder)

    @invariant()
    def agrees(self) -> None:
        assert self.seen() == self.now
        assert self.library.can_undo() == bool(self.past)
        assert self.library.can_redo() == bool(self.future)
        settled = {i for i, (s, _) in self.now.items() if s in (ClaimStatus.CONFIRMED, ClaimStatus.CORRECTED)}
        assert {r.id for r in self.library.rules()} == settled
        assert {p.id for p in self.library.proposals()} == {
            i for i, (s, _) in self.now.items() if s is ClaimStatus.PROPOSED
        }
        waiting = sum(s is ClaimStatus.PROPOSED for s, _ in self.now.values())
        assert self.library.progress().waiting == waiting
        assert self.library.progress().decided == len(self.now) - waiting


Decisions.TestCase.settings = settings(max_examples=25, stateful_step_count=15, deadline=None)
TestDecisions = Decisions.TestCase
