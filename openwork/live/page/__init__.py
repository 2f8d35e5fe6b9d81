"""Style and scripts of the live page, one thing a file."""
