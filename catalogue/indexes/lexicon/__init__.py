"""The words that stand in the index, damaged ones too, and the widening of a question to them.

A part of the index has its words in a table of plain arrays (`Wordbook`), each distinct word once;
`Lexicon` reads several of them as one; `widened` turns what was wished for into the exact terms an
engine is asked. Nothing is looked up in the texts themselves.
"""

from catalogue.indexes.lexicon.books import book_of, kept_book
from catalogue.indexes.lexicon.lexicon import Lexicon
from catalogue.indexes.lexicon.widening import Names, widened
from catalogue.indexes.lexicon.wordbook import Wordbook

__all__ = ["Lexicon", "Names", "Wordbook", "book_of", "kept_book", "widened"]
