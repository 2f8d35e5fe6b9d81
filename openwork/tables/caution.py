"""The caution that stands wherever strength or fit is shown."""

CAUTION = (
    "Figures are estimates. Physical tests such as those of ISO 4210 and licensed practice "
    "decide; local codes apply."
)
