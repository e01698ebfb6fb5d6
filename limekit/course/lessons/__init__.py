"""One module a notebook: its explorers and its exercises."""
