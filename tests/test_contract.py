"""Every registered pattern keeps the contract on every site; planted bad ones do not."""

from openwork.fill.registry import patterns
from openwork.testing import PatternContract

for _name in sorted(patterns()):
    globals()[f"Test{_name.title()}"] = type(
        f"Test{_name.title()}", (PatternContract,), {"pattern": _name}
    )
