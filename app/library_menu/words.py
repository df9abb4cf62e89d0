"""Back-ups in words. No Qt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from app.figure_words import counted_words, date_words, joined
from app.translating import translate
from store.kept_backups import BackupAbout, KeptBackup, WhyKept

_WHY: Mapping[WhyKept, Callable[[], str]] = {
    WhyKept.BEFORE_MIGRATION: lambda: translate("back-ups", "before the program changed the library's tables"),
    WhyKept.BEFORE_RESTORE: lambda: translate("back-ups", "before a back-up took the library's place"),
}


def moment_words(at: datetime) -> str:
    """'3 May 2026, 14:02' in the machine's own zone."""
    here = at.astimezone()
    return f"{date_words(here.date().isoformat())}, {here:%H:%M}"


def size_words(size: int) -> str:
    """'12 kB', '3.4 MB'."""
    return f"{size / 1e6:.1f} MB" if size >= 1_000_000 else f"{max(1, round(size / 1000))} kB"


def kept_words(kept: KeptBackup) -> str:
    """One line of the list: when, why, how large, and whether it is sound."""
    state = translate("back-ups", "damaged") if kept.damage else translate("back-ups", "sound")
    return f"{moment_words(kept.made_at)} · {_WHY[kept.why]()} · {size_words(kept.size)} · {state}"


def last_good_words(kept: tuple[KeptBackup, ...]) -> str:
    good = next((k for k in kept if not k.damage), None)
    if good is not None:
        return translate("back-ups", "Last good automatic back-up: {when}.").format(when=moment_words(good.made_at))
    if kept:
        return translate("back-ups", "None of the automatic back-ups is sound. Back up to a file of your own now.")
    return translate(
        "back-ups",
        "No automatic back-up yet: one is made before the library's tables change, and before a back-up takes its "
        "place.",
    )


def sheets_words(count: int) -> str:
    return counted_words(count, "sheet")


def about_words(about: BackupAbout) -> str:
    """'made on 3 May 2026, 14:02, with 12 sheets, 2 panels and 5 tins'."""
    parts = [sheets_words(about.sheets)]
    if about.panels:
        parts.append(counted_words(about.panels, "panel"))
    if about.tins:
        parts.append(counted_words(about.tins, "tin"))
    holds = joined(parts)
    if about.made_at is None:
        return translate("back-ups", "with {holds}").format(holds=holds)
    return translate("back-ups", "made on {when}, with {holds}").format(when=moment_words(about.made_at), holds=holds)


def restoring_words(about: BackupAbout, sheets_now: int) -> str:
    """What will happen, before it does."""
    return translate(
        "back-ups",
        "This back-up is sound: {about}. It will take the place of the library that is open now, which holds "
        "{now}. What is there now is packed into a back-up of its own first, and can be restored from the "
        "list below.",
    ).format(about=about_words(about), now=sheets_words(sheets_now))
