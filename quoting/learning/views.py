from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from quoting.estimator.rates import PHASES
from quoting.learning.observing import look_backs_closed
from quoting.learning.service import (
    LearningRefused,
    card_back,
    learned,
    phase_leave_out,
    proposals_adopt,
)
from quoting.learning.verdicts import how_good
from quoting.learning.words import InWords, labels_by_name
from quoting.models import LookBack, RateCard
from quoting.rate_cards.views import showing_of

ADOPTED = "Rate card {version} is made with them, from today. Quotes already begun keep their card."
CHOOSE = "Tick at least one number to adopt."
BACK = "Rate card {version} has the numbers of before again."
LEFT_OUT = "Left out: it says nothing of other jobs now."
COUNTED = "It counts again."


@require_GET
def rates_learned(request: HttpRequest) -> HttpResponse:
    found = learned(today=timezone.localdate())
    words = InWords(found, showing_of(request.business))
    context = {
        "card": found.card,
        "count": len(found.seen),
        "groups": words.groups,
        "phases": [words.phase(each) for each in found.phases],
        "fill": [words.row(found.fill.proposal)] if found.fill else [],
        "bands": words.bands(found.fill) if found.fill else (),
        "losses": [words.row(each) for each in found.losses],
        "before": RateCard.objects.filter(version__lt=found.card.version).first(),
    }
    return render(request, "quoting/learning/rates_learned.html", context)


@require_POST
def rates_adopt(request: HttpRequest) -> HttpResponse:
    keys = request.POST.getlist("adopt")
    if not keys:
        messages.warning(request, CHOOSE)
        return redirect("rates_learned")
    try:
        card = proposals_adopt(
            keys=keys,
            labels=labels_by_name(),
            by=request.user,
            today=timezone.localdate(),
        )
    except LearningRefused as refused:
        messages.warning(request, str(refused))
        return redirect("rates_learned")
    messages.success(request, ADOPTED.format(version=card.version))
    return redirect("rate_card_detail", version=card.version)


@require_POST
def rates_back(request: HttpRequest) -> HttpResponse:
    try:
        card = card_back(by=request.user, today=timezone.localdate())
    except LearningRefused as refused:
        messages.warning(request, str(refused))
        return redirect("rates_learned")
    messages.success(request, BACK.format(version=card.version))
    return redirect("rate_card_detail", version=card.version)


@require_POST
def rates_leave_out(request: HttpRequest, pk: int) -> HttpResponse:
    look_back = get_object_or_404(LookBack, pk=pk, closed_at__isnull=False)
    phase = request.POST.get("phase", "")
    if phase in PHASES:
        is_left_out = request.POST.get("left_out") == "yes"
        phase_leave_out(look_back=look_back, phase=phase, is_left_out=is_left_out)
        messages.success(request, LEFT_OUT if is_left_out else COUNTED)
    return redirect("rates_learned")


@require_GET
def estimates_judged(request: HttpRequest) -> HttpResponse:
    seen = look_backs_closed()
    context = {"good": how_good(seen), "count": len(seen)}
    return render(request, "quoting/learning/estimates_judged.html", context)
