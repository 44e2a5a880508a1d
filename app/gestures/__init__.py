"""Gestures: what a hand does on the drawing, from the press to one history entry."""
