"""The language of questions: what is typed → what is wished for, and how it was understood."""
