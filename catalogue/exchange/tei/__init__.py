"""TEI in the shape of EpiDoc, out and in: what stands on the backs, letter by letter."""
