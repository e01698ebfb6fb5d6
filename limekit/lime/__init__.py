"""From the drawn kiln to the wall: sorting, slaking, putty, mortar and its setting."""
