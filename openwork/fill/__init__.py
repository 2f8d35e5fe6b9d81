"""Opening the web: the site, the pattern protocol, and the one finisher."""
