"""Sheets in German, French, Spanish and Dutch, put into the reader's own English before the finders see them.

A gloss is no translation for people. It is written in the few plain turns that the English vocabulary reads, word by
word out of data (vocabulary/<language>/words.toml, turns.toml), and every character of it keeps the glyphs of the
words that it stands for, so that a claim shows the sheet's own sentence (original.py). What the gloss did not
understand is kept as a doubt (doubts.py): a doubtful clause may forbid, but it gives no leave.
"""
