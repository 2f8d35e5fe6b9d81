"""One module per command; each holds a click command called ``command``."""
