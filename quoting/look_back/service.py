"""A job is looked back on: what was said is kept, hours are typed, and it is closed to learn."""

from collections.abc import Iterable, Mapping
from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction

from decor.models import Job
from decor.models.job import Stage
from quoting.estimator.rates import PHASES
from quoting.look_back.comparing import compare
from quoting.look_back.snapshot import snapshot
from quoting.models import LookBack

WAS_WORKED_ON = (Stage.MADE, Stage.UP, Stage.DONE)
NOT_YET = "“{title}” is “{stage}”: there is nothing to look back on until it is made."
CALLED_OFF = "“{title}” was called off, so what it took says nothing of other jobs."
NOTHING_PLANNED = "No piece of this job is described, so there is nothing to compare with."
IS_CLOSED = "This look-back is closed. Open it again before you change it."
STILL_GOING = "Close it once it hangs: this job is only “{stage}”."


class LookBackRefused(Exception):
    """The message is for the owner to read."""


def look_back_refuse_early(job: Job) -> None:
    if job.stage == Stage.CALLED_OFF:
        raise LookBackRefused(CALLED_OFF.format(title=job.title))
    if job.stage not in WAS_WORKED_ON:
        stage = Stage(job.stage).label.lower()
        raise LookBackRefused(NOT_YET.format(title=job.title, stage=stage))


@transaction.atomic
def look_back_keep(
    *,
    job: Job,
    client_said: str,
    note: str,
    clusters_hung: Mapping[str, int],
    left_out: Iterable[str],
) -> LookBack:
    look_back_refuse_early(job)
    kept = _locked(job)
    if kept.closed_at:
        raise LookBackRefused(IS_CLOSED)
    kept.client_said, kept.note = client_said, note
    kept.clusters_hung = dict(clusters_hung)
    kept.left_out = [phase for phase in PHASES if phase in set(left_out)]
    kept.save()
    return kept


@transaction.atomic
def look_back_close(*, job: Job, by: User | None, now: datetime) -> LookBack:
    """Keeps the numbers as they are now. Closing twice changes nothing."""
    look_back_refuse_early(job)
    if job.stage == Stage.MADE:
        raise LookBackRefused(STILL_GOING.format(stage=Stage.MADE.label.lower()))
    kept = _locked(job)
    if kept.closed_at:
        return kept
    compared = compare(job)
    if compared is None:
        raise LookBackRefused(NOTHING_PLANNED)
    kept.result = snapshot(compared, clusters_hung=kept.clusters_hung)
    kept.closed_at, kept.closed_by = now, by
    kept.save()
    return kept


@transaction.atomic
def look_back_open_again(*, job: Job) -> LookBack:
    kept = _locked(job)
    kept.result = kept.closed_at = kept.closed_by = None
    kept.save()
    return kept


def _locked(job: Job) -> LookBack:
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    kept, _ = LookBack.objects.get_or_create(job=job)
    return kept
