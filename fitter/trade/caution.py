"""The caution that stands wherever a wrong answer costs money."""

LAST_WORD = "printer, binder and publisher have the last word"
CAUTION = f"{LAST_WORD.capitalize()}."
