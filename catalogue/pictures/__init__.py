"""Pictures of what was worked out, as SVG: from values, for the desk and for documents alike.

bars.py      spans of time on a scale of years; dating.py what a label or a repair proves of its own
timeline.py  the life of a work: checks, treatments, each finding from check to check
map.py       the condition map: front and back in mm, also as seen at two checks
             marks.py what is on it, signs.py how each kind looks, letters.py where its number
             stands, legend.py the scale bar and the legend
svg.py       elements as text; words.py what is written in pictures (vocab/pictures.toml)

No picture needs its colour to be understood, and each is well formed whatever was typed.
"""
