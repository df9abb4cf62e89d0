"""The place of mixing: from the area to what goes into the cup, and how long the pot lasts."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.bench_sums.refusals import refusal_words
from app.caution_words import deferring_words, usual_cautions
from app.filing.cautions import CautionBand
from app.jobs import LibraryChange, LibraryDesk
from app.mixing.form import MixForm
from app.mixing.mix_card import MixCard
from app.mixing.pot_clocks import PotClocks
from app.naming.book import NameBook
from app.naming.field import NameField
from app.now import Now, now_here
from app.place import Place
from app.product_figures_desk import ProductOnBench, ask_for
from app.sentences import Sentence
from app.settings import Settings
from app.theme.text_size import limit_width, scaled
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP
from extract.claims import Topic
from store.job_records import TinRecord
from store.planning.mix_job import DensitiesLacking, mixed
from store.records import ClaimRecord, ClaimStatus, ProductRecord
from store.sums.result import OutOfRange

_BESIDE = 104 * GRID
"""From this width of the place on, the mix stands beside the form, and below it else."""
_CARD_WIDTH = 36 * GRID
_PRODUCT = "mixing/product"


class MixingPlace(Place):
    """Comes with a product's id."""

    name = "mixing"
    title = QT_TRANSLATE_NOOP("places", "Mix and buy")
    icon_name = "mixing"

    def __init__(
        self,
        desk: LibraryDesk,
        book: NameBook,
        theme: Theme,
        settings: Settings,
        now: Now = now_here,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._settings = settings
        self._asked = 0
        self._opened = desk.ready
        self._restored = False
        self._on_bench: ProductOnBench | None = None
        self.product = NameField(
            book, self.tr("Product to mix"), hint=self.tr("the product to mix"), kinds_too=False, parent=self
        )
        limit_width(self.product, 64 * GRID)
        self.cautions = CautionBand(self)
        self.form = MixForm(settings, self)
        self.card = MixCard(self)
        self.clocks = PotClocks(theme, settings, now, self)
        self.copy_button = QPushButton(self.tr("Copy the mix"), self)
        self._copied = QLabel(self)
        set_look(self._copied, "quiet")
        self._lay_out()
        self.product.meaning_changed.connect(self._on_product_named)
        self.cautions.caution_opened.connect(self._on_caution_opened)
        self.form.job_changed.connect(self._work)
        self.form.sentence_opened.connect(self._on_sentence_opened)
        self.form.confirming_asked.connect(self._on_confirming_asked)
        self.copy_button.clicked.connect(self.copy)
        book.names_changed.connect(self._on_names_changed)
        desk.library_changed.connect(self._on_library_changed)
        desk.library_opened.connect(self._on_library_opened)
        self._work()

    def activated(self) -> None:
        self.product.line.setFocus()

    def come_with(self, payload: object) -> None:
        if isinstance(payload, int):
            self._desk.read(lambda library: library.product(payload), self._take_product)

    def copy(self) -> None:
        if self.card.lines:
            QGuiApplication.clipboard().setText("\n".join(self.card.lines))
            self._copied.setText(self.tr("Copied."))

    # --- inside

    def _lay_out(self) -> None:
        head = QLabel(self.tr("What to mix and buy"), self)
        set_look(head, "large")
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.copy_button)
        deeds.addWidget(self._copied, 1)
        right = self._right = QVBoxLayout()
        right.setSpacing(2 * GRID)
        right.addWidget(self.card)
        right.addLayout(deeds)
        right.addWidget(self.clocks)
        right.addStretch(1)
        body = QWidget(self)
        inside = QVBoxLayout(body)
        inside.setContentsMargins(0, 0, GRID, 0)
        inside.setSpacing(2 * GRID)
        inside.addWidget(self.product)
        inside.addWidget(self.cautions)
        self._both = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._both.setSpacing(3 * GRID)
        self._both.addWidget(self.form, 5)
        self._both.addLayout(right, 4)
        inside.addLayout(self._both)
        inside.addStretch(1)
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(body)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addWidget(scroll, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """The mix beside the form where both have room, as wide as their words are, and below it else."""
        card = max(_CARD_WIDTH, self._right.minimumSize().width())
        needed = self.form.minimumSizeHint().width() + card + 10 * GRID
        beside = self.width() >= max(scaled(_BESIDE), needed)
        self._both.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)

    def _work(self) -> None:
        self._copied.clear()
        meaning = self.product.meaning
        name = meaning.name if isinstance(meaning, ProductRecord) else ""
        missing = self.form.what_is_missing()
        if missing:
            teaching = "" if name else self.tr("Name the product: what its sheet says is filled in.") + "\n"
            self.card.refuse(teaching + missing)
        else:
            job = self.form.job()
            try:
                self.card.show_mix(name, job, mixed(job))
            except OutOfRange as fault:
                self.card.refuse(refusal_words(fault))
            except DensitiesLacking:
                self.card.refuse(
                    self.tr(
                        "The ratio goes by weight. Type the density of each component, from the tin or its safety "
                        "sheet, and the amounts follow."
                    )
                )
        self.copy_button.setEnabled(bool(self.card.lines))
        self._arrange()
        self.clocks.set_pot_life(name, self.form.figure("pot_life"))

    def _take_product(self, product: ProductRecord) -> None:
        self.product.set_meaning(product)
        self._on_product_named(product)

    def _on_product_named(self, meaning: object) -> None:
        self._asked += 1
        asked = self._asked
        if not isinstance(meaning, ProductRecord):
            self._take(None)
            return
        self._settings.set_text(_PRODUCT, self.product.text)

        def came(found: ProductOnBench) -> None:
            if asked == self._asked:
                self._take(found)

        ask_for(self._desk, meaning.id, came)

    def _take(self, found: ProductOnBench | None) -> None:
        self._on_bench = found
        self.form.take(found.figures if found else None, _prices(found.tins) if found else {})
        claims = found.cautions if found else ()
        self.cautions.show_cautions(claims, self.product.text)
        stated = [
            c.claim.property for c in claims if c.claim.topic is Topic.SAFETY and c.status is not ClaimStatus.REJECTED
        ]
        usual = usual_cautions(stated)
        self.cautions.say_usual("\n".join([*usual, deferring_words()]) if usual else "")
        self._work()

    def _on_names_changed(self) -> None:
        """The product of last time, once the library's names are known."""
        if not self._restored:
            self._restored = True
            text = self._settings.text(_PRODUCT)
            if text and self.product.meaning is None:
                self.product.write(text)

    def _on_library_changed(self, change: LibraryChange) -> None:
        meaning = self.product.meaning
        touched = change.sheets or change.products or change.filed or change.everything
        if isinstance(meaning, ProductRecord) and touched:
            self._on_product_named(meaning)

    def _on_library_opened(self) -> None:
        """Another library in place of the first: what was named is a product of that one."""
        first, self._opened = not self._opened, True
        if first:
            return
        self.product.set_meaning(None)
        self._on_product_named(None)

    def _on_sentence_opened(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    def _on_caution_opened(self, record: ClaimRecord) -> None:
        self.evidence_opened.emit(record.sheet_id, record.claim.evidence.page, record.claim.evidence.boxes)

    def _on_confirming_asked(self) -> None:
        if self._on_bench is None:
            return
        product_id = self._on_bench.figures.product.id
        self._desk.read(
            lambda library: [s.id for s in library.sheets_of(product_id) if s.superseded_by is None],
            lambda ids: self.place_wanted.emit("confirm", ids[0]) if ids else None,
        )


def _prices(tins: tuple[TinRecord, ...]) -> Mapping[str, float]:
    """The price of a litre by component, of the tin bought last."""
    found: dict[str, float] = {}
    for record in sorted(tins, key=lambda t: (str(t.tin.bought or ""), t.id)):
        if record.tin.price_per_litre is not None:
            found[record.tin.component.value] = record.tin.price_per_litre
    return found
