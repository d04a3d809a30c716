"""The chain of hands: who had a painting when, where nobody is known to, and what rests on what."""
