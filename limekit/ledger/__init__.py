"""What the lime costs, in money and in carbon."""
