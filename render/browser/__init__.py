"""The page: its scripts and styles, one thing a file, which ``page`` sets into one file."""
