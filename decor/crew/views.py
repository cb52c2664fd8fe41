from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.crew.forms import CrewForm
from decor.crew.service import CrewRefused, crew_at_work
from decor.crew.service import crew_archive as archive
from decor.crew.service import crew_bring_back as bring_back
from decor.models import CrewMember

SAVED = "{name}: saved."
ARCHIVED = "{name} is archived, and no longer counted on."
BROUGHT_BACK = "{name} is back in the crew."


@require_GET
def crew_list(request: HttpRequest) -> HttpResponse:
    context = {
        "crew": crew_at_work(),
        "archived": CrewMember.objects.filter(archived_at__isnull=False),
    }
    return render(request, "decor/crew/crew_list.html", context)


@require_http_methods(["GET", "POST"])
def crew_new(request: HttpRequest) -> HttpResponse:
    return _member_page(request, CrewMember())


@require_http_methods(["GET", "POST"])
def crew_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _member_page(request, get_object_or_404(CrewMember, pk=pk))


@require_POST
def crew_archive(request: HttpRequest, pk: int) -> HttpResponse:
    member = get_object_or_404(CrewMember, pk=pk)
    try:
        archive(member=member, now=timezone.now())
    except CrewRefused as refused:
        messages.warning(request, str(refused))
    else:
        messages.success(request, ARCHIVED.format(name=member.name))
    return redirect("crew_list")


@require_POST
def crew_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    member = get_object_or_404(CrewMember, pk=pk)
    bring_back(member=member)
    messages.success(request, BROUGHT_BACK.format(name=member.name))
    return redirect("crew_list")


def _member_page(request: HttpRequest, member: CrewMember) -> HttpResponse:
    name = member.name
    form = CrewForm(request.POST or None, instance=member)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        said = SAVED.format(name=saved.name)
        messages.success(request, said, extra_tags=f"keep:{form.keep}")
        return redirect("crew_list")
    context = {"form": form, "member": member, "name": name}
    status = 422 if form.is_bound else 200
    return render(request, "decor/crew/crew_form.html", context, status=status)
