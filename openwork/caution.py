"""The words that stand beside every figure of fit, mass or strength."""

CAUTION = (
    "Estimates only: physical tests such as ISO 4210's and licensed practice decide; "
    "local codes apply."
)
