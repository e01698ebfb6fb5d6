"""What a person writes down, and what they decide."""
