"""Label sheets as they are sold, named by their measures. Widths and gaps: labels.css."""

from dataclasses import dataclass

from decor.models.business import Paper


@dataclass(frozen=True)
class LabelSheet:
    key: str
    name: str
    paper: Paper
    columns: int
    rows: int

    @property
    def per_sheet(self) -> int:
        return self.columns * self.rows


# Their layouts are common practice, no source: each adds up to its paper, which a test checks.
SHEETS = (
    LabelSheet("us-30", "30 on US Letter, 2⅝ × 1 in", Paper.LETTER, 3, 10),
    LabelSheet("us-10", "10 on US Letter, 4 × 2 in", Paper.LETTER, 2, 5),
    LabelSheet("a4-24", "24 on A4, 70 × 37 mm", Paper.A4, 3, 8),
    LabelSheet("a4-21", "21 on A4, 63.5 × 38.1 mm", Paper.A4, 3, 7),
)
SHEET_OF = {sheet.key: sheet for sheet in SHEETS}


def sheets_for(paper: str) -> tuple[LabelSheet, ...]:
    """Those on the business's own paper first."""
    return tuple(sorted(SHEETS, key=lambda sheet: sheet.paper != paper))
