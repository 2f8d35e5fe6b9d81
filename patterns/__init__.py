"""The pattern families, one module each; a module's name is its pattern's name."""
