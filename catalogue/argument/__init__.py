"""What a label proves: what is said of it, its date with reasons, and where the reasons quarrel."""
