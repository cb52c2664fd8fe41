"""The money that came and went for a job, line by line."""

from dataclasses import dataclass

from decor.models import Job, PaymentLine
from decor.models.payment import PaymentKind


@dataclass(frozen=True, kw_only=True)
class LineShown:
    line: PaymentLine
    is_taken_back: bool

    @property
    def number(self) -> str:
        return receipt_number(self.line)

    @property
    def name(self) -> str:
        line = self.line
        if line.kind == PaymentKind.CORRECTION:
            return f"Correction of {receipt_number(line.corrects)}"
        return f"{line.get_kind_display()}, {line.get_means_display().lower()}"

    @property
    def can_be_corrected(self) -> bool:
        return self.line.kind != PaymentKind.CORRECTION and not self.is_taken_back


def lines_of(job: Job) -> list[LineShown]:
    """Oldest first; two queries at most."""
    lines = list(PaymentLine.objects.filter(job=job).select_related("corrects", "by"))
    corrected = {line.corrects_id for line in lines}
    return [LineShown(line=line, is_taken_back=line.pk in corrected) for line in lines]


def receipt_number(line: PaymentLine) -> str:
    """Every line has its own, over all jobs, so that no two papers are called the same."""
    return f"R-{line.pk:04d}"
