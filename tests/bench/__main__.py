"""Run every benchmark, or those named on the command line, and print their tables."""

import sys
from importlib import import_module
from pathlib import Path

from rich.console import Console
from rich.table import Table


def main(names: list[str]) -> None:
    here = Path(__file__).parent
    modules = names or sorted(p.stem for p in here.glob("*.py") if not p.stem.startswith("_"))
    console = Console()
    for name in modules:
        table = Table(title=name, title_justify="left", show_header=False)
        for label, *texts in import_module(f"tests.bench.{name}").rows():
            table.add_row(label, *map(str, texts))
        console.print(table)


if __name__ == "__main__":
    main(sys.argv[1:])
