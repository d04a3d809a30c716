"""Before a painting is sold, lent or carried over a border: what the law may ask, by what is on file.

Every answer names its rule and the facts it rests on, and says what is not known. Rules and sums are a
curator's, in vocab/borders.toml. These are questions to ask, never legal advice.
"""

from catalogue.argument.borders.asked import Advice, Journey, journey_typed, standing_text
from catalogue.argument.borders.crossing import before_it_travels

__all__ = ["Advice", "Journey", "before_it_travels", "journey_typed", "standing_text"]
