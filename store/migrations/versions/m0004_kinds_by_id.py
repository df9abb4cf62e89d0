"""Own rules and asked questions name kinds by their id instead of the label that they were typed with.

A label is in the language that the window had; typed in one, a rule of the user's own would not hold in another. What
is a product's name, and what means no kind, stays as it was written.
"""

import sqlalchemy as sa
from alembic import op

from store.records import ProductRecord
from store.rules.names import KindName, resolve

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

_PRODUCTS = sa.text(
    "SELECT products.id, products.name, makers.name, products.kind, products.code"
    " FROM products LEFT JOIN makers ON makers.id = products.maker_id"
)


def upgrade() -> None:
    connection = op.get_bind()
    products = [ProductRecord(row[0], row[1], row[2] or "", row[3], row[4]) for row in connection.execute(_PRODUCTS)]
    for table in ("own_rules", "questions"):
        for row_id, lower, upper in connection.execute(sa.text(f"SELECT id, lower, upper FROM {table}")).all():  # noqa: S608
            kept = {"lower": _key(lower, products), "upper": _key(upper, products)}
            if kept != {"lower": lower, "upper": upper}:
                statement = sa.text(f"UPDATE {table} SET lower = :lower, upper = :upper WHERE id = :id")  # noqa: S608
                connection.execute(statement, {**kept, "id": row_id})
    # One question typed in two ways is one now: the last stands.
    connection.execute(
        sa.text(
            "DELETE FROM questions WHERE EXISTS (SELECT 1 FROM questions AS later WHERE later.id > questions.id"
            " AND later.lower = questions.lower AND later.upper = questions.upper AND later.at_c IS questions.at_c)"
        )
    )


def _key(text: str, products: list[ProductRecord]) -> str:
    meaning = resolve(text, products)
    return meaning.kind if isinstance(meaning, KindName) else text
