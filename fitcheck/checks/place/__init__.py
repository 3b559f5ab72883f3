"""Rules about place: bodies that move, bends, heat, panels."""
