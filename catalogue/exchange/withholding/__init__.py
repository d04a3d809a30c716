"""What may leave and what stays: lists of fields, rules of lives and places, what stands in."""
