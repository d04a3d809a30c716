"""LIDO, out and in: one record for each work, and records of others as works of ours."""
