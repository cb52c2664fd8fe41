from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from inventory.catalogue.measuring import (
    MeasuringRefused,
    colour_looks,
    distance_from,
    photo_measured,
)
from inventory.catalogue.measuring_form import MeasuredForm, MeasuringForm
from inventory.models import Colour
from quoting.estimator.palette import MeasuredColour

LOOKS = "{name} looks like {now} now. Before it was {before}."
MEASURE_AGAIN = "No colour was measured: measure it once more."


@require_http_methods(["GET", "POST"])
def colour_measure(request: HttpRequest, pk: int) -> HttpResponse:
    colour = get_object_or_404(Colour, pk=pk)
    is_sent = request.method == "POST"
    form = MeasuringForm(request.POST, request.FILES) if is_sent else MeasuringForm()
    measured = _measured(form) if is_sent else None
    context = {
        "colour": colour,
        "form": form,
        "measured": measured,
        "distance": measured and distance_from(colour, measured.hex),
    }
    part = "partials/measured.html" if request.htmx and is_sent else "colour_measure.html"
    status = 422 if is_sent and not measured else 200
    return render(request, f"inventory/catalogue/{part}", context, status=status)


@require_POST
def colour_measure_use(request: HttpRequest, pk: int) -> HttpResponse:
    colour = get_object_or_404(Colour, pk=pk)
    form = MeasuredForm(request.POST)
    if not form.is_valid():
        messages.error(request, MEASURE_AGAIN)
        return redirect("colour_measure", pk)
    before = colour.hex
    colour_looks(colour=colour, hex_value=form.cleaned_data["hex"])
    messages.success(request, LOOKS.format(name=colour.name, now=colour.hex, before=before))
    return redirect("colour_edit", pk)


def _measured(form: MeasuringForm) -> MeasuredColour | None:
    if not form.is_valid():
        return None
    try:
        return photo_measured(form.cleaned_data["photo"], form.area())
    except MeasuringRefused as refused:
        form.add_error(refused.field, str(refused))
        return None
