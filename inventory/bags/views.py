from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.bags.age import best_before
from inventory.bags.deeds import DEEDS, DeedForm, deeds_for
from inventory.bags.forms import BagForm
from inventory.bags.service import bag_change, places_known
from inventory.ledger.reading import lines_of_bag
from inventory.ledger.service import BagRefused
from inventory.models import Bag
from inventory.shelf.listing import bags_listed

LINES_A_PAGE = 50
DONE = "Written down. {left} left in this bag."
SAVED = "Saved."
NO_SUCH_LABEL = "No bag has the label “{tag}”. Look for it here."


@require_GET
def bag_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return _bag_page(request, _bag(pk), refused=None)


@require_GET
def bag_by_tag(request: HttpRequest, tag: str) -> HttpResponse:
    """Where the code of a label leads."""
    bag = Bag.objects.filter(tag=tag.lower()).first()
    if bag is None:
        messages.warning(request, NO_SUCH_LABEL.format(tag=tag))
        return redirect("shelf")
    return redirect("bag_detail", pk=bag.pk)


@require_POST
def bag_do(request: HttpRequest, pk: int, deed: str) -> HttpResponse:
    if deed not in DEEDS:
        raise Http404
    bag = _bag(pk)
    form = DEEDS[deed](request.POST, bag=bag)
    if form.is_valid() and _done(form, request):
        messages.success(request, DONE.format(left=bag.left))
        return redirect("bag_detail", pk=pk)
    return _bag_page(request, _bag(pk), refused=form)


@require_http_methods(["GET", "POST"])
def bag_edit(request: HttpRequest, pk: int) -> HttpResponse:
    bag = _bag(pk)
    form = BagForm(request.POST or None, instance=bag)
    if form.is_valid():
        bag_change(bag=_bag(pk), **form.cleaned_data)
        messages.success(request, SAVED, extra_tags=f"keep:bag-{pk}")
        return redirect("bag_detail", pk=pk)
    context = {"form": form, "bag": bag, "places": places_known()}
    status = 422 if form.is_bound else 200
    return render(request, "inventory/bags/bag_edit.html", context, status=status)


def _bag(pk: int) -> Bag:
    return get_object_or_404(bags_listed(), pk=pk)


def _done(form: DeedForm, request: HttpRequest) -> bool:
    try:
        form.act(by=request.user, now=timezone.now())
    except BagRefused as refused:
        named = next((name for name in ("quantity", "counted") if name in form.fields), None)
        form.add_error(named, str(refused))
        return False
    return True


def _bag_page(request: HttpRequest, bag: Bag, *, refused: DeedForm | None) -> HttpResponse:
    best = best_before(today=timezone.localdate())
    deeds = [
        refused if refused and refused.deed == form.deed else form(bag=bag)
        for form in deeds_for(bag)
    ]
    if refused and refused.deed not in {form.deed for form in deeds}:
        deeds.append(refused)
    context = {
        "bag": bag,
        "age": best.age_of(bag.item, bag.received_on),
        "best_until": best.day_of(bag.received_on),
        "deeds": deeds,
        "refused": refused,
        "page": Paginator(lines_of_bag(bag), LINES_A_PAGE).get_page(request.GET.get("page")),
    }
    status = 422 if refused else 200
    return render(request, "inventory/bags/bag_detail.html", context, status=status)
