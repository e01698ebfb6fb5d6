"""The course: explorers, answer checks, cards and printed sheets."""
