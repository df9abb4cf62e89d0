"""Full-text search over products, makers, claims' sentences, pages and notes, kept up by triggers.

The indexes hold no text of their own. Prefixes of one to three letters are indexed for search as one types.
"""

from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

SEARCHED = {"products": "words", "makers": "name", "claims": "quote", "pages": "text", "notes": "text"}


def upgrade() -> None:
    for table, column in SEARCHED.items():
        index = f"{table}_search"
        added = f"INSERT INTO {index}(rowid, {column}) VALUES (new.id, new.{column});"  # noqa: S608
        gone = f"INSERT INTO {index}({index}, rowid, {column}) VALUES ('delete', old.id, old.{column});"  # noqa: S608
        op.execute(
            f"CREATE VIRTUAL TABLE {index} USING fts5({column}, content='{table}', content_rowid='id', "
            "tokenize='unicode61 remove_diacritics 2', prefix='1 2 3')"
        )
        op.execute(f"CREATE TRIGGER {index}_added AFTER INSERT ON {table} BEGIN {added} END")
        op.execute(f"CREATE TRIGGER {index}_gone AFTER DELETE ON {table} BEGIN {gone} END")
        op.execute(f"CREATE TRIGGER {index}_changed AFTER UPDATE OF {column} ON {table} BEGIN {gone} {added} END")
        op.execute(f"INSERT INTO {index}({index}) VALUES ('rebuild')")  # noqa: S608
