"""Functions that take results, in plain SI floats, and return a picture in plain dicts or an SVG drawing."""
