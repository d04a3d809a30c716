"""Provenance as prose: entries read out of what museums publish, and written from the record."""
