"""The last scan: what stands in commissions and contacts, looked for in every finished file."""
