"""The library's migrations. HEAD is the newest revision, kept in each library as PRAGMA user_version.

Revisions are four digits, so that the number alone tells older from newer without importing Alembic.
"""

HEAD = 4
