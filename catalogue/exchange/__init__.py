"""Sending records out and taking them in: one module a format, and redaction before every export."""
