"""The library's facade: every method is one transaction, takes plain values and hands out frozen records."""

from __future__ import annotations

import getpass
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import select

from extract.claims import Claim, PageText, SheetReading
from store import backup, deciding, filing, finding, keeping, removing
from store.database import Database, translated
from store.errors import LibraryMissing, PdfMissing
from store.files import keep_pdf, pdf_path, sha256_of, sweep
from store.job_library import JobLibrary
from store.job_tables import PhotoRow
from store.locking import WriterLock
from store.migrating import copy_checked, prepare
from store.records import (
    ClaimRecord,
    DecisionRecord,
    Filed,
    Hit,
    Note,
    OwnRule,
    ProductRecord,
    Progress,
    Proposal,
    QuestionRecord,
    Rule,
    SheetRecord,
)
from store.search import search as search_library
from store.tables import FileRow


class Library(JobLibrary):
    """An open library. May be used from any thread; transactions run one at a time.

    Every method may raise LibraryFull, LibraryInUse (another process was writing for too long) or LibraryDamaged;
    those that change something raise ReadingOnly on a library opened for reading. Unknown ids: UnknownRecord.
    """

    def __init__(self, folder: Path, database: Database, lock: WriterLock | None, who: str) -> None:
        """Use Library.open()."""
        self.folder = folder
        self._database = database
        self._lock = lock
        self._who = who

    @classmethod
    def open(cls, folder: Path, *, read_only: bool = False, who: str | None = None) -> Self:
        """Open the library in a folder, or begin one there; older ones are migrated after a back-up.

        who signs the decisions; by default the user's name on this machine. Raises LibraryInUse, LibraryTooNew,
        LibraryDamaged, LibraryFull; with read_only also LibraryMissing and LibraryTooOld.
        """
        folder = Path(folder)
        lock: WriterLock | None = None
        if read_only:
            if not folder.is_dir():
                raise LibraryMissing(str(folder))
        else:
            with translated(folder):
                folder.mkdir(parents=True, exist_ok=True)
            lock = WriterLock(folder)
        try:
            prepare(folder, read_only=read_only)
            library = cls(folder, Database(folder, read_only=read_only), lock, who or _user_name())
            if not read_only:
                library._sweep()
        except BaseException:
            if lock is not None:
                lock.release()
            raise
        return library

    @property
    def read_only(self) -> bool:
        return self._database.read_only

    def close(self) -> None:
        """Close the database and let another writer in. May be called twice."""
        self._database.close()
        if self._lock is not None:
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # Filing

    def file_sheet(self, pdf: bytes, file_name: str, readings: Sequence[SheetReading]) -> tuple[Filed, ...]:
        """File a PDF with what was read from it, one reading a product; wholly or not at all.

        The same bytes again are ALREADY_FILED; sheets of theirs that were removed come back. Raises ValueError
        where there is no reading.
        """
        if not readings:
            raise ValueError("a file needs at least one reading")
        sha256 = sha256_of(pdf)
        named = [filing.with_name(reading, file_name, sha256) for reading in readings]
        fresh = False
        try:
            with self._database.writing() as connection:
                if filing.holds_file(connection, sha256):
                    for removed in removing.removed_of_file(connection, sha256):
                        removing.restore_sheet(connection, removed, self._who)
                    keep_pdf(self.folder, sha256, pdf)  # Mends a library whose PDF was taken away.
                    return filing.already_filed(filing.sheets_of_file(connection, sha256))
                filed = filing.file_sheets(connection, sha256, len(pdf), file_name, named)
                # On the disk before the commit, so that no sheet is ever without its PDF.
                fresh = keep_pdf(self.folder, sha256, pdf)
                return filed
        except BaseException:
            if fresh:
                pdf_path(self.folder, sha256).unlink(missing_ok=True)
            raise

    def reread(self, sheet_id: int, reading: SheetReading) -> Filed:
        """Take in what a newer reader makes of a filed sheet; decisions stay, differences are listed."""
        with self._database.writing() as connection:
            return filing.reread(connection, sheet_id, reading)

    def read_by_others(self, reader: str) -> tuple[SheetRecord, ...]:
        """Current sheets that another version of the reader than this one read last."""
        with self._database.reading() as connection:
            return finding.read_by_others(connection, reader)

    def known_file(self, sha256: str) -> tuple[SheetRecord, ...]:
        with self._database.reading() as connection:
            return filing.sheets_of_file(connection, sha256)

    # Looking up

    def makers(self) -> tuple[str, ...]:
        with self._database.reading() as connection:
            return finding.makers(connection)

    def products(self) -> tuple[ProductRecord, ...]:
        with self._database.reading() as connection:
            return finding.products(connection)

    def product(self, product_id: int) -> ProductRecord:
        with self._database.reading() as connection:
            return finding.product(connection, product_id)

    def sheets(self, include_superseded: bool = False) -> tuple[SheetRecord, ...]:
        with self._database.reading() as connection:
            return finding.sheets(connection, include_superseded=include_superseded)

    def sheets_of(self, product_id: int) -> tuple[SheetRecord, ...]:
        """Every issue of a product's sheets, current ones first."""
        with self._database.reading() as connection:
            return finding.sheets_of_product(connection, product_id)

    def sheet(self, sheet_id: int) -> SheetRecord:
        with self._database.reading() as connection:
            return finding.sheet(connection, sheet_id)

    def reader_of(self, sheet_id: int) -> str:
        """The version of the reader that last read the sheet."""
        with self._database.reading() as connection:
            return finding.reader_of(connection, sheet_id)

    def page_texts(self, sheet_id: int) -> tuple[PageText, ...]:
        with self._database.reading() as connection:
            return finding.page_texts(connection, sheet_id)

    def pdf_path(self, sheet_id: int) -> Path:
        """Where the sheet's PDF lies. Raises PdfMissing where somebody took it away."""
        sheet = self.sheet(sheet_id)
        path = pdf_path(self.folder, sheet.sha256)
        if not path.exists():
            raise PdfMissing(sheet.file_name, str(path))
        return path

    def claims(self, sheet_id: int) -> tuple[ClaimRecord, ...]:
        with self._database.reading() as connection:
            return finding.claims(connection, sheet_id)

    def claim(self, claim_id: int) -> ClaimRecord:
        with self._database.reading() as connection:
            return finding.claim(connection, claim_id)

    def progress(self, sheet_id: int | None = None) -> Progress:
        """Of one sheet, or of every current one."""
        with self._database.reading() as connection:
            return finding.progress(connection, sheet_id)

    def rules(self, product_ids: Sequence[int] | None = None) -> tuple[Rule, ...]:
        with self._database.reading() as connection:
            return finding.rules(connection, product_ids)

    def proposals(self, product_ids: Sequence[int] | None = None) -> tuple[Proposal, ...]:
        with self._database.reading() as connection:
            return finding.proposals(connection, product_ids)

    def rules_for(self, product_ids: Sequence[int], kinds: Sequence[str] = ()) -> tuple[Rule, ...]:
        """Rules of the products asked for and of all products of the kinds asked for."""
        with self._database.reading() as connection:
            return finding.rules(connection, product_ids, kinds)

    def proposals_for(self, product_ids: Sequence[int], kinds: Sequence[str] = ()) -> tuple[Proposal, ...]:
        with self._database.reading() as connection:
            return finding.proposals(connection, product_ids, kinds)

    def search(self, words: str, limit: int = 30) -> tuple[Hit, ...]:
        """Where all the words stand, the last one as far as it is typed. Nothing for no words."""
        with self._database.reading() as connection:
            return search_library(connection, words, limit)

    # Deciding

    def confirm(self, claim_ids: Sequence[int]) -> tuple[ClaimRecord, ...]:
        with self._database.writing() as connection:
            return deciding.confirm(connection, claim_ids, self._who)

    def reject(self, claim_ids: Sequence[int]) -> tuple[ClaimRecord, ...]:
        with self._database.writing() as connection:
            return deciding.reject(connection, claim_ids, self._who)

    def correct(self, claim_id: int, claim: Claim) -> tuple[ClaimRecord, ...]:
        with self._database.writing() as connection:
            return deciding.correct(connection, claim_id, claim, self._who)

    def add_claim(self, sheet_id: int, claim: Claim) -> tuple[ClaimRecord, ...]:
        with self._database.writing() as connection:
            return deciding.add_claim(connection, sheet_id, claim, self._who)

    def undo(self) -> tuple[ClaimRecord, ...]:
        """Take back the last step, in this session or an earlier one; () where there is none."""
        with self._database.writing() as connection:
            return deciding.undo(connection, self._who)

    def redo(self) -> tuple[ClaimRecord, ...]:
        with self._database.writing() as connection:
            return deciding.redo(connection, self._who)

    def can_undo(self) -> bool:
        with self._database.reading() as connection:
            return deciding.can_undo(connection)

    def can_redo(self) -> bool:
        with self._database.reading() as connection:
            return deciding.can_redo(connection)

    def history(self, claim_id: int) -> tuple[DecisionRecord, ...]:
        """Everything ever decided on a claim, oldest first."""
        with self._database.reading() as connection:
            return deciding.history(connection, claim_id)

    # The user's own

    def notes(self, product_id: int) -> tuple[Note, ...]:
        with self._database.reading() as connection:
            return keeping.notes(connection, product_id)

    def write_note(self, product_id: int, text: str, note_id: int | None = None) -> Note:
        """A new note, or note_id with new words."""
        with self._database.writing() as connection:
            return keeping.write_note(connection, product_id, text, note_id)

    def remove_note(self, note_id: int) -> None:
        with self._database.writing() as connection:
            keeping.remove_note(connection, note_id)

    def own_rules(self) -> tuple[OwnRule, ...]:
        with self._database.reading() as connection:
            return keeping.own_rules(connection)

    def add_own_rule(self, lower: str, upper: str, *, forbids: bool, words: str, source: str) -> OwnRule:
        with self._database.writing() as connection:
            return keeping.add_own_rule(connection, lower, upper, forbids=forbids, words=words, source=source)

    def remove_own_rule(self, rule_id: int) -> None:
        with self._database.writing() as connection:
            keeping.remove_own_rule(connection, rule_id)

    def questions(self, limit: int = 20) -> tuple[QuestionRecord, ...]:
        with self._database.reading() as connection:
            return keeping.questions(connection, limit)

    def remember_question(self, lower: str, upper: str, at_c: float | None, verdict: str) -> QuestionRecord:
        with self._database.writing() as connection:
            return keeping.remember_question(connection, lower, upper, at_c, verdict)

    def setting(self, name: str, default: Any = None) -> Any:
        """A setting that belongs to the library and travels with it; any JSON value."""
        with self._database.reading() as connection:
            return keeping.setting(connection, name, default)

    def set_setting(self, name: str, value: Any) -> None:
        with self._database.writing() as connection:
            keeping.set_setting(connection, name, value)

    def add_product(
        self, name: str, *, maker: str = "", kind: str | None = None, code: str | None = None
    ) -> ProductRecord:
        """A product without a sheet; one filed later finds it."""
        with self._database.writing() as connection:
            return keeping.add_product(connection, name, maker, kind, code)

    def change_product(
        self,
        product_id: int,
        *,
        name: str | None = None,
        maker: str | None = None,
        kind: str | None = None,
        code: str | None = None,
    ) -> ProductRecord:
        """Put right what the header said; None leaves a field, '' empties kind or code. Later issues keep to it.

        Where another product has the same name, maker and code already, its sheets and notes come under this id.
        """
        with self._database.writing() as connection:
            return keeping.change_product(connection, product_id, name, maker, kind, code)

    # The whole

    def back_up(self, to: Path) -> None:
        """Write everything to one file, checked; it appears whole or not at all."""

        def copy_database(copy: Path) -> None:
            with self._database.raw() as raw:
                copy_checked(raw, copy, self.folder)

        with translated(self.folder):
            backup.back_up(copy_database, self.folder, Path(to))

    @staticmethod
    def restore(source: Path, folder: Path) -> None:
        """Put a back-up in place of the library in a folder, after all of it has passed its checks.

        What was there is backed up first. Raises BackupDamaged, LibraryTooNew, LibraryInUse, LibraryFull; nothing
        has changed then.
        """
        folder = Path(folder)
        with translated(folder):
            folder.mkdir(parents=True, exist_ok=True)
            lock = WriterLock(folder)
            try:
                backup.restore(Path(source), folder)
            finally:
                lock.release()

    def _sweep(self) -> None:
        with self._database.reading() as connection:
            known = set(connection.scalars(select(FileRow.sha256)))
            photos = set(connection.scalars(select(PhotoRow.sha256)))
        with translated(self.folder):
            sweep(self.folder, known, photos)
            backup.clear_unfinished(self.folder)


def _user_name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "user"
