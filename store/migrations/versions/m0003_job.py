"""Panels in work, tins, photos, the journal of changes, and sheets that can be taken out without being lost."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("sheets", sa.Column("removed_at", sa.Text(), nullable=True))
    op.create_table(
        "panels",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("job", sa.Text(), nullable=False),
        sa.Column("surface", sa.Text(), nullable=True),
        sa.Column("plan", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.Column("finished_at", sa.Text(), nullable=True),
        sa.Column("deleted_at", sa.Text(), nullable=True),
    )
    op.create_table(
        "coats",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("panel_id", sa.Integer(), sa.ForeignKey("panels.id"), nullable=False),
        sa.Column("product_id", sa.Integer(), sa.ForeignKey("products.id"), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("coats", sa.Integer(), nullable=False),
        sa.Column("air_c", sa.Double(), nullable=True),
        sa.Column("panel_c", sa.Double(), nullable=True),
        sa.Column("humidity", sa.Double(), nullable=True),
        sa.Column("wet_um", sa.Double(), nullable=True),
        sa.Column("dry_um", sa.Double(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("photo_ids", sa.Text(), nullable=False),
        sa.Column("drawn", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.Text(), nullable=True),
    )
    op.create_index("coats_by_panel", "coats", ["panel_id"])
    op.create_index("coats_by_product", "coats", ["product_id"])
    op.create_table(
        "preparations",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("panel_id", sa.Integer(), sa.ForeignKey("panels.id"), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("grit", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.Text(), nullable=True),
    )
    op.create_index("preparations_by_panel", "preparations", ["panel_id"])
    op.create_table(
        "outdoor_spells",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("panel_id", sa.Integer(), sa.ForeignKey("panels.id"), nullable=False),
        sa.Column("began", sa.Text(), nullable=False),
        sa.Column("ended", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.Text(), nullable=True),
    )
    op.create_index("outdoor_spells_by_panel", "outdoor_spells", ["panel_id"])
    op.create_table(
        "tins",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("product_id", sa.Integer(), sa.ForeignKey("products.id"), nullable=False),
        sa.Column("component", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("size", sa.Double(), nullable=True),
        sa.Column("remaining", sa.Double(), nullable=False),
        sa.Column("batch", sa.Text(), nullable=False),
        sa.Column("made", sa.Text(), nullable=True),
        sa.Column("bought", sa.Text(), nullable=True),
        sa.Column("opened", sa.Text(), nullable=True),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("price_per_litre", sa.Double(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("kept_since", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.Text(), nullable=True),
    )
    op.create_index("tins_by_product", "tins", ["product_id"])
    op.create_table(
        "photos",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("sha256", sa.Text(), nullable=False, unique=True),
        sa.Column("suffix", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("length", sa.Integer(), nullable=False),
        sa.Column("kept_at", sa.Text(), nullable=False),
    )
    op.create_table(
        "changes",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
    )
    op.create_index("changes_by_state", "changes", ["scope", "state"])
    op.create_table(
        "row_changes",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("change_id", sa.Integer(), sa.ForeignKey("changes.id"), nullable=False),
        sa.Column("table_name", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("before", sa.Text(), nullable=True),
        sa.Column("after", sa.Text(), nullable=False),
    )
    op.create_index("row_changes_by_change", "row_changes", ["change_id"])
