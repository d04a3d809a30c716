"""The second engine of words, for catalogues of a hundred thousand works: `pip install dorse[large]`.

It is given the same entries and the same trees as the one that is always there, and finds the same.
"""
