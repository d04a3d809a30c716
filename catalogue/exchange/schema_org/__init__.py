"""schema.org for a dealer's page: the work, the offer where there is one, a script for its head."""
