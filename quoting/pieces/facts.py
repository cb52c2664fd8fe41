from dataclasses import dataclass


@dataclass(frozen=True)
class FactRow:
    """A figure with its label. `explain` is the key of its explanation, where it can be opened."""

    label: str
    text: str
    note: str = ""
    explain: str = ""
