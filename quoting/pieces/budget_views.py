"""Fit a piece to a budget: look at what it would become, take it over, put it back."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from decor.display import money_text
from quoting.pieces.budget_form import BudgetForm
from quoting.pieces.budgets import NotFitted, piece_fit, piece_fitted, piece_put_back
from quoting.pieces.fetching import piece_or_404, surroundings_for

UNPROCESSABLE = 422
FITTED = "{title} is fitted: {total} with tax."
PUT_BACK = "{title} is as it was before."


@require_POST
def piece_fit_try(request: HttpRequest, pk: int) -> HttpResponse:
    """Nothing is kept. Without scripts it is a page of its own."""
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    form = BudgetForm(request.POST, currency=surroundings.rates.currency)
    context = {"piece": piece, "budget_form": form}
    if form.is_valid():
        try:
            context["fitted"] = piece_fitted(
                piece=piece,
                surroundings=surroundings,
                budget_cents=form.cleaned_data["budget"],
                by=form.cleaned_data["by"],
                today=timezone.localdate(),
            )
        except NotFitted as refused:
            context["refused"] = str(refused)
    status = 200 if "fitted" in context else UNPROCESSABLE
    name = "partials/fit_result.html" if request.htmx else "piece_fit.html"
    return render(request, f"quoting/pieces/{name}", context, status=status)


@require_POST
def piece_fit_use(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    form = BudgetForm(request.POST, currency=surroundings.rates.currency)
    if not form.is_valid():
        return redirect("piece_edit", pk)
    try:
        fitted = piece_fit(
            piece=piece,
            surroundings=surroundings,
            budget_cents=form.cleaned_data["budget"],
            by=form.cleaned_data["by"],
            today=timezone.localdate(),
        )
    except NotFitted as refused:
        messages.error(request, str(refused))
        return redirect("piece_edit", pk)
    total = money_text(fitted.price.total_cents, surroundings.rates.currency)
    said = FITTED.format(title=piece.title, total=total)
    messages.success(request, said, extra_tags=f"keep:piece-{pk}")
    return redirect("piece_edit", pk)


@require_POST
def piece_fit_undo(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    piece_put_back(piece=piece, surroundings=surroundings_for(request, piece))
    said = PUT_BACK.format(title=piece.title)
    messages.success(request, said, extra_tags=f"keep:piece-{pk}")
    return redirect("piece_edit", pk)
