"""Every error as a sentence to a painter: what happened, what still holds, what to do. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePath

from app.reason_words import reason_words
from app.translating import QT_TRANSLATE_NOOP, translate


@dataclass(frozen=True, slots=True)
class Message:
    """sentence is for reading; detail is the technical part, to be folded under it; empty where there is none."""

    sentence: str
    detail: str = ""


_READ_ERRORS = {
    "not_a_pdf": QT_TRANSLATE_NOOP(
        "messages", "This file is not a PDF, so there is nothing to read. Look for the sheet's PDF and try that."
    ),
    "damaged": QT_TRANSLATE_NOOP(
        "messages", "This PDF is damaged and could not be mended. Fetch a fresh copy of the sheet and try again."
    ),
    "failed": QT_TRANSLATE_NOOP(
        "messages",
        "The program itself failed over this PDF, which may be sound. It was left out; nothing else is touched. "
        "A newer version of the program may read it.",
    ),
    "crashed": QT_TRANSLATE_NOOP(
        "messages",
        "Reading this PDF broke off: it may be damaged. It was left out; nothing else is touched. "
        "Fetch a fresh copy of the sheet and try again.",
    ),
    "no_pages": QT_TRANSLATE_NOOP("messages", "This PDF opens but holds no page."),
    "memory": QT_TRANSLATE_NOOP(
        "messages", "This PDF needs more memory than a sheet may take. It was left out; nothing else is touched."
    ),
    "timeout": QT_TRANSLATE_NOOP(
        "messages", "Reading this PDF took too long and was stopped. It was left out; nothing else is touched."
    ),
    "not_drawn": QT_TRANSLATE_NOOP("messages", "This page could not be drawn. What was read from it still stands."),
    "unreadable": QT_TRANSLATE_NOOP("messages", "This PDF could not be read."),
}


def reading_message(kind: str, fields: dict[str, object] | None = None) -> Message:
    """A reading error by its kind (extract.errors), as the reading process reports it."""
    known = fields or {}
    cause = str(known.get("cause", ""))
    if kind == "password":
        if known.get("wrong"):
            return Message(
                translate("messages", "The password does not open this PDF. Type it again, or leave the sheet out.")
            )
        return Message(translate("messages", "This PDF is locked with a password. Give the password to have it read."))
    if kind == "too_large":
        return Message(
            translate(
                "messages",
                "This PDF is larger than any data sheet, so it was left out. Cut the sheet's pages out and try those.",
            ),
            f"{known.get('size')} {known.get('what')}, at most {known.get('limit')}",
        )
    return Message(translate("messages", _READ_ERRORS.get(kind, _READ_ERRORS["unreadable"])), cause)


def message_for(fault: BaseException) -> Message:
    """The sentence for an error of ours or of the system's; a fault that nobody foresaw says so."""
    kind = getattr(fault, "kind", None)
    fields = getattr(fault, "fields", None)
    if isinstance(kind, str) and callable(fields):
        return reading_message(kind, fields())
    known = _library_message(fault) or _system_message(fault) or _folder_message(fault)
    if known is not None:
        return known
    return Message(
        translate("messages", "Something went wrong inside the program. What was filed and confirmed before is kept."),
        f"{type(fault).__name__}: {fault}",
    )


def _library_message(fault: BaseException) -> Message | None:
    from store import errors  # noqa: PLC0415 - reading a sheet needs nothing of the library

    if isinstance(fault, errors.LibraryInUse):
        holder = f" ({fault.holder})" if fault.holder else ""
        return Message(
            translate(
                "messages",
                "Another window of the program has this library open{holder}. Close it there and try "
                "again; nothing was changed.",
            ).format(holder=holder),
            fault.folder,
        )
    if isinstance(fault, errors.LibraryTooNew):
        return Message(
            translate(
                "messages",
                "This library was last opened by a newer version of the program. Update the program to open it; "
                "nothing was changed.",
            ),
            f"{fault.folder}: {fault.revision}",
        )
    if isinstance(fault, errors.LibraryDamaged):
        return Message(
            translate(
                "messages",
                "This library is damaged. The PDFs in its folder are still there: restore the last back-up, "
                "or start a new library and file them again.",
            ),
            f"{fault.folder}: {fault.detail}",
        )
    if isinstance(fault, errors.LibraryFull):
        return Message(
            translate(
                "messages",
                "The library could not be written: the disk is full, or the folder may not be written to. "
                "What was filed before is kept. Make room and try again.",
            ),
            f"{fault.folder}: {fault.detail}",
        )
    if isinstance(fault, errors.LibraryMissing):
        return Message(
            translate(
                "messages", "There is no library in that folder yet. File a sheet first, or name another folder."
            ),
            str(fault),
        )
    if isinstance(fault, errors.LibraryTooOld):
        return Message(
            translate(
                "messages", "This library is of an older version. Open it once in the window to bring it up to date."
            ),
            str(fault),
        )
    if isinstance(fault, errors.ReadingOnly):
        return Message(translate("messages", "This library is open for looking only; nothing was changed."), str(fault))
    if isinstance(fault, errors.PdfMissing):
        return Message(
            translate(
                "messages",
                "The sheet's PDF is no longer in the library's folder. What was read and confirmed still stands; "
                "file the PDF again to see its pages.",
            ),
            str(fault),
        )
    if isinstance(fault, errors.BackupDamaged):
        return Message(
            translate(
                "messages", "This file is not a back-up, or it is damaged. Nothing was changed; try another one."
            ),
            str(fault),
        )
    if isinstance(fault, errors.WrongEntry):
        return Message(
            translate("messages", "This cannot be kept: {why}. Put it right and try again.").format(
                why=reason_words(fault.why)
            ),
            fault.field,
        )
    if isinstance(fault, errors.PhotoMissing):
        return Message(
            translate("messages", "The photo is no longer in the library's folder. What was logged still stands."),
            str(fault),
        )
    if isinstance(fault, errors.UnknownRecord):
        return Message(
            translate("messages", "What you asked for is no longer in the library. Look again from the list."),
            str(fault),
        )
    refusal = _refusal(fault)
    if refusal is not None:
        return refusal
    if isinstance(fault, errors.StoreError):
        return Message(translate("messages", "The library could not do that; nothing was changed."), str(fault))
    return None


def _folder_message(fault: BaseException) -> Message | None:
    from app.library_menu.folders import NotALibrary  # noqa: PLC0415 - few errors are of folders

    if not isinstance(fault, NotALibrary):
        return None
    return Message(
        translate(
            "messages",
            "That folder holds other things and no library. Name a library's folder, or an empty one to begin a new "
            "library. The one that was open before is open again.",
        ),
        str(fault.folder),
    )


def _refusal(fault: BaseException) -> Message | None:
    """A sum that is asked for what lies outside it."""
    from app.bench_sums.refusals import refusal_words  # noqa: PLC0415 - few errors are of sums
    from store.sums.result import OutOfRange  # noqa: PLC0415

    return Message(refusal_words(fault)) if isinstance(fault, OutOfRange) else None


def _system_message(fault: BaseException) -> Message | None:
    if not isinstance(fault, OSError):
        return None
    name = PurePath(str(fault.filename)).name if fault.filename else translate("messages", "The file")
    detail = str(fault)
    if isinstance(fault, FileNotFoundError):
        return Message(
            translate("messages", "{name} is not there. Look whether it was moved or renamed.").format(name=name),
            detail,
        )
    if isinstance(fault, IsADirectoryError):
        return Message(translate("messages", "{name} is a folder, not a sheet.").format(name=name), detail)
    if isinstance(fault, PermissionError):
        return Message(
            translate(
                "messages", "{name} may not be read or written by you. Copy it to a folder of your own and try again."
            ).format(name=name),
            detail,
        )
    if isinstance(fault, FileExistsError):
        return Message(translate("messages", "{name} exists already and was left as it is.").format(name=name), detail)
    return Message(
        translate("messages", "{name} could not be read or written. Nothing was changed.").format(name=name), detail
    )
