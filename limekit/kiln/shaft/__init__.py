"""A shaft kiln, in which stone and fuel sink against the gas that rises."""
