"""How the sample photographs are drawn: one module for each thing that one sees on a back."""
