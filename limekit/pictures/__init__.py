"""Functions that take results and return a plotly figure or an SVG drawing."""
