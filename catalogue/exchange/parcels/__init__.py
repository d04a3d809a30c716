"""Parcels: records, copies of photographs, checksums and a page to read in one zip; and back again."""
