from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from inventory.labels.forms import LabelForm
from inventory.labels.printing import LABELS_MOST, labels_pdf
from inventory.models import Bag
from inventory.shelf.listing import bags_listed


@require_GET
def label_new(request: HttpRequest) -> HttpResponse:
    """Choose bags and a sheet; with both, the labels themselves."""
    offered = _offered(request)
    is_sent = "print" in request.GET
    form = LabelForm(request.GET if is_sent else None, bags=offered, paper=request.business.paper)
    if is_sent and form.is_valid():
        return _pdf(request, form)
    chosen = set(request.GET.getlist("bag"))
    context = {
        "form": form,
        "bags": [(bag, not is_sent or str(bag.pk) in chosen) for bag in offered[:LABELS_MOST]],
        "place": request.GET.get("place", ""),
        "delivery": request.GET.get("delivery", ""),
    }
    status = 422 if form.is_bound else 200
    return render(request, "inventory/labels/label_new.html", context, status=status)


def _offered(request: HttpRequest) -> QuerySet[Bag]:
    """The bags of a delivery, of a place, or one by one; else all with anything in them."""
    bags, asked = bags_listed(), request.GET
    if asked.get("delivery", "").isdecimal():
        return bags.filter(delivery=asked["delivery"])
    if "place" in asked:
        return bags.filter(place=asked["place"], left__gt=0)
    if asked.get("only", "").isdecimal():
        return bags.filter(pk=asked["only"])
    return bags.filter(left__gt=0)


def _pdf(request: HttpRequest, form: LabelForm) -> HttpResponse:
    pdf = labels_pdf(
        bags=form.cleaned_data["bag"],
        sheet=form.chosen_sheet(),
        first=form.cleaned_data["first"],
        address_of=lambda bag: request.build_absolute_uri(reverse("bag_by_tag", args=[bag.tag])),
    )
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = 'inline; filename="labels.pdf"'
    return response
