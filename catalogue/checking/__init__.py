"""What is wrong, missing or open about a record, in words: shapes, rules over several values, advice."""
