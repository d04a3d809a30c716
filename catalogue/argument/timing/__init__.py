"""When everything happened, all evidence at once: events, claims about their order, what they leave."""
