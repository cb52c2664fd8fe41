from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from decor.display import percent_text
from decor.models import Business
from quoting.calling_off.bands import NOTHING_AGREED, bands_in_words
from quoting.estimator import example_rates, rates_to_dict
from quoting.models import RateCard
from quoting.rate_cards.differences import card_differences
from quoting.rate_cards.folds import (
    CALLING_OFF,
    LIMITS,
    MARGIN,
    PAYING,
    SPARES,
    TIMES,
    card_summary,
)
from quoting.rate_cards.forms import MarginForm, RateCardForm
from quoting.rate_cards.lines import Fold, label_of
from quoting.rate_cards.margins import WHOLE_BP, markup_bp_of
from quoting.rate_cards.measures import Showing
from quoting.rate_cards.service import (
    CardInTime,
    cards_in_time,
    current_rate_card,
)
from quoting.rate_cards.service import rate_card_change as change
from quoting.rate_cards.steps import cost_steps, price_steps
from quoting.rate_cards.terms import DEFAULT_TERMS

CHANGED = "Rate card {version} is made. Quotes already begun keep the card they were begun with."
NOTHING_CHANGED = "Nothing differs from rate card {version}, so no new one is made."
# Folds of numbers that look-backs teach: it is said of each whether it is the owner's own yet.
MEASURED = (TIMES, SPARES)
BESIDE_THE_PRICE = (PAYING, CALLING_OFF, TIMES, SPARES, LIMITS)


@require_GET
def rate_card_list(request: HttpRequest) -> HttpResponse:
    showing = showing_of(request.business)
    rows = [
        {"in_time": in_time, "summary": card_summary(in_time.card.as_rates(), showing)}
        for in_time in cards_in_time(on=timezone.localdate())
    ]
    return render(request, "quoting/rate_cards/rate_card_list.html", {"rows": rows})


@require_GET
def rate_card_detail(request: HttpRequest, version: int) -> HttpResponse:
    card = get_object_or_404(RateCard.objects.select_related("created_by"), version=version)
    before = RateCard.objects.filter(version__lt=version).first()
    showing = showing_of(request.business)
    rates = card.as_rates()
    costs = cost_steps(rates, showing)
    context = {
        "card": card,
        "in_time": _in_time(card),
        "before": before,
        "differences": card_differences(before, card, showing=showing) if before else (),
        "cost_steps": costs,
        "price_steps": price_steps(rates, showing),
        "price_start": len(costs) + 1,
        "folds": [_fold_facts(fold, card, showing) for fold in BESIDE_THE_PRICE],
    }
    return render(request, "quoting/rate_cards/rate_card_detail.html", context)


@require_http_methods(["GET", "POST"])
def rate_card_change(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    base = _base_card(request)
    form = RateCardForm(
        request.POST or None,
        rates=base.as_rates() if base else example_rates(),
        terms=base.terms if base else DEFAULT_TERMS,
        showing=showing_of(request.business),
        today=today,
    )
    if form.is_valid():
        return _changed(request, form)
    margin_bp = form.base.margin_bp
    if form.is_bound:
        margin_bp = getattr(form, "cleaned_data", {}).get(MARGIN.lines[0].field_name)
    context = {"form": form, "base": base, **_markup_context(margin_bp)}
    status = 422 if form.is_bound else 200
    return render(request, "quoting/rate_cards/rate_card_change.html", context, status=status)


@require_GET
def rate_card_markup(request: HttpRequest) -> HttpResponse:
    """What markup a margin is, while it is typed."""
    form = MarginForm(request.GET, showing=showing_of(request.business))
    form.is_valid()
    context = _markup_context(form.cleaned_data.get(MARGIN.lines[0].field_name))
    return render(request, "quoting/rate_cards/partials/markup.html", context)


def showing_of(business: Business) -> Showing:
    return Showing(units=business.units, currency=business.currency)


def _base_card(request: HttpRequest) -> RateCard | None:
    """The card asked for by `?from=`, else the one in use."""
    asked_for = request.GET.get("from", "")
    if asked_for.isdecimal():
        return get_object_or_404(RateCard, version=asked_for)
    if not RateCard.objects.exists():
        return None
    return current_rate_card(on=timezone.localdate())


def _changed(request: HttpRequest, form: RateCardForm) -> HttpResponse:
    known = set(RateCard.objects.values_list("version", flat=True))
    card = change(
        rates=form.rates(),
        terms=form.cleaned_data["terms"],
        starts_on=form.cleaned_data["starts_on"],
        note=form.cleaned_data["note"],
        by=request.user,
    )
    said = NOTHING_CHANGED if card.version in known else CHANGED
    messages.success(request, said.format(version=card.version), "keep:rate-card")
    return redirect("rate_card_detail", version=card.version)


def _in_time(card: RateCard) -> CardInTime:
    cards = cards_in_time(on=timezone.localdate())
    return next(in_time for in_time in cards if in_time.card == card)


def _fold_facts(fold: Fold, card: RateCard, showing: Showing) -> dict[str, object]:
    data, begun_with = rates_to_dict(card.as_rates()), rates_to_dict(example_rates())
    is_measured = fold in MEASURED
    facts = [
        (
            label_of(line, showing),
            line.text(data, showing),
            is_measured and line.value(data) == line.value(begun_with),
        )
        for line in fold.all_lines
    ]
    if fold == CALLING_OFF:
        bands = bands_in_words(card.as_rates().calling_off)
        kept = [
            (band.notice.capitalize(), f"{percent_text(band.keep_bp)} kept", False)
            for band in bands
        ]
        facts = kept or [("What is kept", NOTHING_AGREED, False)]
    return {"fold": fold, "facts": facts}


def _markup_context(margin_bp: int | None) -> dict[str, int | None]:
    """None where the margin as typed is none."""
    markup_bp = None if margin_bp is None else markup_bp_of(margin_bp)
    sells_at = None if markup_bp is None else WHOLE_BP + markup_bp
    return {"margin_bp": margin_bp, "markup_bp": markup_bp, "cost": WHOLE_BP, "sells_at": sells_at}
