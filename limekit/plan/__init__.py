"""One plan of one kiln: from what a person decided and measured to every figure that follows, and the search for it."""
