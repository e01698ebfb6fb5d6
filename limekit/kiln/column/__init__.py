"""A flare kiln level by level: its fire, its gas, its stones and its wall, step by step."""
