"""Plan geometry: numbers in, numbers out. No windows, no files, no materials."""
