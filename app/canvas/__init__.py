"""The drawing on the screen: marks as items, the fold, the camera."""
