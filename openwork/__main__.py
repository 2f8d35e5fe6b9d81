"""``python -m openwork``."""

from openwork.cli import main

main(prog_name="openwork")
