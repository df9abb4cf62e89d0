"""A panel's history on paper and as a table: what was done, in what weather, with what batch, and what comes next."""

from __future__ import annotations

import base64
import csv
import io
from collections.abc import Sequence
from datetime import datetime
from html import escape

from PySide6.QtCore import QBuffer, QByteArray, QIODevice

from app.due_list.words import step_short
from app.job_words import bare_words, moment_words, step_words
from app.panels.entries import entries_of, preparation_words
from app.panels.held import Held, PanelNow
from app.panels.panel_page import plan_rows, step_sentences
from app.panels.time_line import drawing_of, image_of, key_words
from app.printing.table import PrintedTable, TableRow
from app.sentences import Sentence
from app.translating import QT_TRANSLATE_NOOP, translate
from app.wording import kind_words
from store.job_records import CoatRecord, PreparationRecord

_WIDTH = 660
_COLUMNS = (
    QT_TRANSLATE_NOOP("printing", "Panel"),
    QT_TRANSLATE_NOOP("printing", "Job"),
    QT_TRANSLATE_NOOP("printing", "When"),
    QT_TRANSLATE_NOOP("printing", "What"),
    QT_TRANSLATE_NOOP("printing", "Product"),
    QT_TRANSLATE_NOOP("printing", "Coats"),
    QT_TRANSLATE_NOOP("printing", "Grit (P)"),
    QT_TRANSLATE_NOOP("printing", "Air (°C)"),
    QT_TRANSLATE_NOOP("printing", "Panel (°C)"),
    QT_TRANSLATE_NOOP("printing", "Humidity (%)"),
    QT_TRANSLATE_NOOP("printing", "Wet film (µm)"),
    QT_TRANSLATE_NOOP("printing", "Dry film (µm)"),
    QT_TRANSLATE_NOOP("printing", "Taken from the tins"),
    QT_TRANSLATE_NOOP("printing", "Batches"),
    QT_TRANSLATE_NOOP("printing", "Taken in"),
    QT_TRANSLATE_NOOP("printing", "Note"),
)
_STYLE = """
<style>
h1 { font-size: 15pt; font-weight: 600; margin: 0 0 2pt 0; }
h2 { font-size: 11pt; font-weight: 600; margin: 8pt 0 2pt 0; }
p { margin: 0 0 3pt 0; }
th { font-weight: 600; text-align: left; }
.quiet { color: #333333; font-size: 8pt; }
</style>
"""


def history_table(panel: PanelNow, held: Held, now: datetime) -> PrintedTable:
    """The whole page: next steps and time line before the log, the log as rows."""
    entries = entries_of(panel.record, held.tins)
    head = translate("printing", "When"), translate("printing", "What"), translate("printing", "Details")
    nothing = translate("printing", "Nothing is logged yet.")
    rows = [
        TableRow(
            f"<tr><td>{escape(entry.when)}</td><td>{escape(entry.what)}</td>"
            f"<td>{'<br>'.join(escape(words) for words in entry.details)}</td></tr>"
        )
        for entry in entries
    ] or [TableRow(f'<tr><td colspan="3">{escape(nothing)}</td></tr>')]
    widths = (26, 30, 44)
    cells = "".join(f'<th width="{width}%">{escape(words)}</th>' for width, words in zip(widths, head, strict=True))
    return PrintedTable(_STYLE, _before(panel, held, now), f"<tr>{cells}</tr>", tuple(rows))


def title_of(panel: PanelNow) -> str:
    values = panel.record.panel
    return f"{values.job}, {values.name}" if values.job else values.name


def _before(panel: PanelNow, held: Held, now: datetime) -> str:
    surface = panel.record.panel.surface
    parts = [f"<h1>{escape(title_of(panel))}</h1>"]
    on = kind_words(surface) if surface else translate("printing", "surface not named")
    printed = translate("printing", "printed {moment}").format(moment=moment_words(now))
    parts.append(f'<p class="quiet">{escape(on)} · {escape(printed)}</p>')
    parts += [f"<p>{escape(words)}</p>" for words in panel.caution.words]
    plan = plan_rows(panel, held)
    if plan:
        parts.append(_head(translate("printing", "Build-up")))
        parts += [_shaped(shape, f"{words} ({state})") for shape, state, words in plan]
    if panel.steps or panel.bare is not None:
        parts.append(_head(translate("printing", "What may come next")))
    for step in panel.steps:
        short = step_short(step, now)
        parts.append(_shaped(short.shape, f"{short.word}. {step_words(step)}") + _sources(step_sentences(step)))
    if panel.bare is not None:
        sentences = [Sentence.of_source(source) for source in panel.bare.sources]
        parts.append(f"<p>{escape(bare_words(panel.bare))}</p>{_sources(sentences)}")
    drawing = drawing_of(panel, now)
    if drawing is not None:
        image = image_of(drawing, _WIDTH)
        parts.append(_head(translate("printing", "Time line")))
        parts.append(f'<p><img src="data:image/png;base64,{_png(image)}" width="{_WIDTH * 3 // 4}"></p>')
        parts.append(f'<p class="quiet">{escape(key_words())}</p>')
    parts.append(_head(translate("printing", "Log")))
    return "".join(parts)


def _head(words: str) -> str:
    return f"<h2>{escape(words)}</h2>"


def _shaped(shape: str, words: str) -> str:
    return f'<p><img src="shape:{shape}" width="9" height="9"> {escape(words)}</p>'


def _sources(sentences: Sequence[Sentence]) -> str:
    return "".join(f'<p class="quiet">{escape(s.quoted)} {escape(s.source)}</p>' for s in sentences)


def _png(image: object) -> str:
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[attr-defined]
    return base64.b64encode(held.data()).decode("ascii")


def history_csv(panel: PanelNow, held: Held) -> str:
    """The log for spreadsheets, the oldest first; moments with their difference from UTC."""
    tins = {tin.id: tin for tin in held.tins}
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([translate("printing", words) for words in _COLUMNS])
    values = panel.record.panel
    for entry in reversed(entries_of(panel.record)):
        at = entry.at.astimezone().isoformat(timespec="minutes")
        record = entry.record
        if isinstance(record, CoatRecord):
            coat = record.coat
            taken = "; ".join(
                f"{d.wanted:g} {tins[d.tin_id].tin.unit.value}" if d.tin_id in tins else f"{d.wanted:g}"
                for d in record.drawn
            )
            batches = "; ".join(tins[d.tin_id].tin.batch for d in record.drawn if d.tin_id in tins)
            figures = [coat.air_c, coat.panel_c, coat.humidity, coat.wet_um, coat.dry_um]
            row = [
                translate("printing", "Coat"),
                record.product,
                coat.coats,
                "",
                *figures,
                taken,
                batches,
                "",
                coat.note,
            ]
        elif isinstance(record, PreparationRecord):
            done = record.preparation
            row = [preparation_words(done.kind), "", "", done.grit, "", "", "", "", "", "", "", "", done.note]
        else:
            spell = record.spell
            ended = spell.ended.astimezone().isoformat(timespec="minutes") if spell.ended is not None else ""
            row = [translate("printing", "Outdoors"), "", "", "", "", "", "", "", "", "", "", ended, spell.note]
        writer.writerow([_safe(cell) for cell in (values.name, values.job, at, *row)])
    return out.getvalue()


def _safe(cell: object) -> object:
    """A spreadsheet takes a cell that begins so for a formula."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in {"=", "+", "-", "@", "\t"} else cell
