"""The ring before it is opened: chain, teeth, mount, material, blank."""
