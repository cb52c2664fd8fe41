from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from decor.models import Job
from quoting.calling_off.answer import calling_off, settling
from quoting.calling_off.forms import CallOffForm
from quoting.calling_off.service import (
    CALLED_OFF_FROM,
    ONLY_PROMISED,
    OTHERWISE_THAN_SHOWN,
    CallingOffRefused,
)
from quoting.calling_off.service import job_call_off as call_off

CALLED_OFF = (
    "{job} is called off. What was held for it is free again, and what is owed or goes back "
    "stands under Money."
)


@require_http_methods(["GET", "POST"])
def job_call_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Shows the sums first; a POST that was shown others is shown them anew."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    if job.stage not in CALLED_OFF_FROM or job.is_archived:
        messages.warning(request, ONLY_PROMISED)
        return redirect("job_detail", pk=pk)
    answer = calling_off(job, on=timezone.localdate())
    currency = request.business.currency
    form = CallOffForm(request.POST or None, answer=answer, currency=currency)
    refusal = ""
    if form.is_valid():
        try:
            call_off(
                job=job,
                who=form.cleaned_data["who"],
                why=form.cleaned_data["why"],
                shown=form.shown(),
                keep_cents=form.cleaned_data["keep"],
                by=request.user,
                now=timezone.now(),
            )
        except CallingOffRefused as refused:
            refusal = str(refused)
            if refusal == OTHERWISE_THAN_SHOWN:
                form = _shown_anew(form)
        else:
            said = CALLED_OFF.format(job=job)
            messages.success(request, said, extra_tags=f"keep:call-off-{pk}")
            return redirect("job_detail", pk=pk)
    context = {
        "job": job,
        "form": form,
        "refusal": refusal,
        "answer": answer,
        "by_client": answer.steps(currency),
        "by_us": settling(answer.paid_cents, 0, currency),
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "quoting/calling_off/job_call_off.html", context, status=status)


def _shown_anew(form: CallOffForm) -> CallOffForm:
    """With what was typed, and the sums as they are now."""
    typed = form.data.copy()
    typed["shown_kept"], typed["shown_paid"] = form.answer.kept_cents, form.answer.paid_cents
    return CallOffForm(typed, answer=form.answer, currency=form.currency)
