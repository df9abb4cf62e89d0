"""The tables of a library."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "makers",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("name", sa.Text(), nullable=False, unique=True),
    )
    op.create_table(
        "products",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("maker_id", sa.Integer(), sa.ForeignKey("makers.id"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=True),
        sa.Column("code", sa.Text(), nullable=True),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("set_by_user", sa.Text(), nullable=False),
    )
    op.create_index("products_by_kind", "products", ["kind"])
    op.create_index("products_by_maker", "products", ["maker_id"])
    op.create_table(
        "identities",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("product_id", sa.Integer(), sa.ForeignKey("products.id", ondelete="CASCADE"), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.UniqueConstraint("product_id", "maker", "name", "code"),
    )
    op.create_index("identities_by_code", "identities", ["code"])
    op.create_index("identities_by_maker", "identities", ["maker"])
    op.create_table(
        "files",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("sha256", sa.Text(), nullable=False, unique=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("length", sa.Integer(), nullable=False),
        sa.Column("filed_at", sa.Text(), nullable=False),
    )
    op.create_table(
        "sheets",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("file_id", sa.Integer(), sa.ForeignKey("files.id"), nullable=False),
        sa.Column("product_id", sa.Integer(), sa.ForeignKey("products.id"), nullable=False),
        sa.Column("pages", sa.Integer(), nullable=False),
        sa.Column("issued", sa.Text(), nullable=True),
        sa.Column("revision", sa.Text(), nullable=True),
        sa.Column("language", sa.Text(), nullable=True),
        sa.Column("scanned", sa.Boolean(), nullable=False),
        sa.Column("problems", sa.Text(), nullable=False),
        sa.Column("reader", sa.Text(), nullable=False),
        sa.Column("filed_at", sa.Text(), nullable=False),
        sa.Column("superseded_by", sa.Integer(), sa.ForeignKey("sheets.id"), nullable=True),
        sa.Column("waiting", sa.Integer(), nullable=False),
        sa.Column("decided", sa.Integer(), nullable=False),
        sa.UniqueConstraint("file_id", "product_id"),
    )
    op.create_index("sheets_by_product", "sheets", ["product_id"])
    op.create_index("sheets_by_successor", "sheets", ["superseded_by"])
    op.create_table(
        "pages",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("file_id", sa.Integer(), sa.ForeignKey("files.id", ondelete="CASCADE"), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("mediabox", sa.Text(), nullable=False),
        sa.Column("cropbox", sa.Text(), nullable=False),
        sa.Column("rotation", sa.Integer(), nullable=False),
        sa.Column("from_picture", sa.Boolean(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("boxes", sa.LargeBinary(), nullable=False),
        sa.UniqueConstraint("file_id", "number"),
    )
    op.create_table(
        "claims",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("sheet_id", sa.Integer(), sa.ForeignKey("sheets.id", ondelete="CASCADE"), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("topic", sa.Text(), nullable=False),
        sa.Column("property", sa.Text(), nullable=True),
        sa.Column("stance", sa.Text(), nullable=False),
        sa.Column("object", sa.Text(), nullable=True),
        sa.Column("only", sa.Boolean(), nullable=False),
        sa.Column("conditions", sa.Text(), nullable=True),
        sa.Column("via", sa.Text(), nullable=True),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("unlimited", sa.Boolean(), nullable=False),
        sa.Column("at_c", sa.Double(), nullable=True),
        sa.Column("method", sa.Text(), nullable=True),
        sa.Column("parts", sa.Text(), nullable=True),
        sa.Column("basis", sa.Text(), nullable=True),
        sa.Column("text", sa.Text(), nullable=True),
        sa.Column("subject", sa.Text(), nullable=True),
        sa.Column("confidence", sa.Double(), nullable=False),
        sa.Column("from_picture", sa.Boolean(), nullable=False),
        sa.Column("why", sa.Text(), nullable=True),
        sa.Column("page", sa.Integer(), nullable=False),
        sa.Column("quote", sa.Text(), nullable=False),
        sa.Column("boxes", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("corrected", sa.Text(), nullable=True),
        sa.Column("added_by_user", sa.Boolean(), nullable=False),
        sa.Column("withdrawn", sa.Boolean(), nullable=False),
        sa.Column("decided_by", sa.Text(), nullable=True),
        sa.Column("decided_at", sa.Text(), nullable=True),
    )
    op.create_index("claims_by_place", "claims", ["sheet_id", "position"])
    op.create_index("claims_by_sheet", "claims", ["sheet_id", "status"])
    op.create_table(
        "steps",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
    )
    op.create_index("steps_by_state", "steps", ["state"])
    op.create_table(
        "decisions",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("step_id", sa.Integer(), sa.ForeignKey("steps.id"), nullable=False),
        sa.Column("claim_id", sa.Integer(), sa.ForeignKey("claims.id", ondelete="CASCADE"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("from_status", sa.Text(), nullable=False),
        sa.Column("from_value", sa.Text(), nullable=True),
        sa.Column("from_by", sa.Text(), nullable=True),
        sa.Column("from_at", sa.Text(), nullable=True),
        sa.Column("to_status", sa.Text(), nullable=False),
        sa.Column("to_value", sa.Text(), nullable=True),
    )
    op.create_index("decisions_by_claim", "decisions", ["claim_id"])
    op.create_index("decisions_by_step", "decisions", ["step_id"])
    op.create_table(
        "own_rules",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("lower", sa.Text(), nullable=False),
        sa.Column("upper", sa.Text(), nullable=False),
        sa.Column("forbids", sa.Boolean(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
    )
    op.create_table(
        "notes",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("product_id", sa.Integer(), sa.ForeignKey("products.id", ondelete="CASCADE"), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("changed_at", sa.Text(), nullable=False),
    )
    op.create_index("notes_by_product", "notes", ["product_id"])
    op.create_table(
        "questions",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("lower", sa.Text(), nullable=False),
        sa.Column("upper", sa.Text(), nullable=False),
        sa.Column("at_c", sa.Double(), nullable=True),
        sa.Column("asked_at", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
    )
    op.create_table(
        "settings",
        sa.Column("name", sa.Text(), primary_key=True),
        sa.Column("value", sa.Text(), nullable=False),
    )
