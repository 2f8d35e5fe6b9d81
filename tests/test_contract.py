"""Every registered family keeps the contract on every site; planted bad ones do not."""

import openwork.patterns  # noqa: F401 (registers the families)
from openwork.fill.registry import PATTERNS
from openwork.testing import PatternContract

for _name in sorted(PATTERNS):
    globals()[f"Test{_name.title()}"] = type(
        f"Test{_name.title()}", (PatternContract,), {"family": _name}
    )
