from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.clients.forms import ClientForm, ClientSearchForm
from decor.clients.likeness import clients_twice
from decor.clients.service import client_archive as archive
from decor.clients.service import client_bring_back as bring_back
from decor.clients.service import clients_found
from decor.jobs.lists import with_rows
from decor.models import Client

CLIENTS_A_PAGE = 40
ARCHIVED = "{name} is archived. Their jobs stay as they are."
BROUGHT_BACK = "{name} is back among the clients."
SAVED = "Saved."


@require_GET
def client_list(request: HttpRequest) -> HttpResponse:
    search = ClientSearchForm(request.GET).wanted()
    is_archived = request.GET.get("archived") == "yes"
    clients = clients_found(search=search, is_archived=is_archived)
    context = {
        "search": search,
        "is_archived": is_archived,
        "page": Paginator(clients, CLIENTS_A_PAGE).get_page(request.GET.get("page")),
        "has_any": Client.objects.exists(),
    }
    return render(request, "decor/clients/client_list.html", context)


@require_GET
def client_detail(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    context = {
        "client": client,
        "jobs": with_rows(client.jobs).order_by("-event_on", "-pk"),
        "sites": client.sites.all(),
        "twice": clients_twice(client),
        "today": timezone.localdate(),
    }
    return render(request, "decor/clients/client_detail.html", context)


@require_http_methods(["GET", "POST"])
def client_edit(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    form = ClientForm(request.POST or None, instance=client)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, SAVED, extra_tags=f"keep:client-{pk}")
        return redirect("client_detail", pk=client.pk)
    # A refused name is in the form only: the heading keeps the one that is saved.
    context = {"form": form, "client": get_object_or_404(Client, pk=pk)}
    status = 422 if form.is_bound else 200
    return render(request, "decor/clients/client_edit.html", context, status=status)


@require_POST
def client_archive(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    archive(client=client, now=timezone.now())
    messages.success(request, ARCHIVED.format(name=client.name))
    return redirect("client_detail", pk=client.pk)


@require_POST
def client_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    bring_back(client=client)
    messages.success(request, BROUGHT_BACK.format(name=client.name))
    return redirect("client_detail", pk=client.pk)
