"""One stone in the fire, and the trial burn that tells what a fire did."""
