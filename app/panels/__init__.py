"""The parts of the window around the drawing."""
