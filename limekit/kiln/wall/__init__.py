"""What keeps the heat in: a wall's layers, settled, warming, fired, and which to build."""
