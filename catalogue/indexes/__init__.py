"""Indexes: made from the ledger, thrown away and made again; nothing is kept here alone.

`words` finds statements and works by what is written; it is brought in only by whoever
searches, because the engine behind it takes a while to load.
"""
