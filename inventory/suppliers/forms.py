from typing import Any

from crispy_forms.layout import Column, Row
from django import forms
from django.urls import reverse

from decor.fields import MoneyField
from decor.form_layout import form_helper
from inventory.deliveries.items import ItemsByName, ItemUnclear, items_by_name
from inventory.models import Item, Supplier, SupplierBag

LEAD_MOST = 365
LEAD_WRONG = "A whole number of days, 0 to 365."
COUNT_WRONG = "A whole number from 1 to 100,000."
PRICE_MISSING = "What does the bag cost?"
OFFERED_ALREADY = "A bag of {count} {item} is there already: change its price below."


class SupplierForm(forms.ModelForm):
    class Meta:
        model = Supplier
        fields = ("name", "lead_days", "smallest_order_cents", "delivery_cents", "note")

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["name"].error_messages["required"] = "What are they called?"
        self.fields["lead_days"] = forms.IntegerField(
            label="Days from ordering to having it",
            min_value=0,
            max_value=LEAD_MOST,
            initial=7,
            help_text="Count weekends too.",
            error_messages=dict.fromkeys(
                ("required", "invalid", "min_value", "max_value"), LEAD_WRONG
            ),
        )
        for name, label in (
            ("smallest_order_cents", "Smallest order"),
            ("delivery_cents", "What delivery costs"),
        ):
            self.fields[name] = MoneyField(
                label=f"{label}, {currency}", currency=currency, required=False, initial=0
            )
        is_new = self.instance.pk is None
        self.helper = form_helper(
            "name",
            "lead_days",
            Row(Column("smallest_order_cents"), Column("delivery_cents")),
            "note",
            submit="Save",
            keep="supplier-new" if is_new else f"supplier-{self.instance.pk}",
            back_url=reverse("supplier_list")
            if is_new
            else reverse("supplier_detail", args=[self.instance.pk]),
        )

    def clean_smallest_order_cents(self) -> int:
        return self.cleaned_data["smallest_order_cents"] or 0

    def clean_delivery_cents(self) -> int:
        return self.cleaned_data["delivery_cents"] or 0


class OfferForm(forms.Form):
    """One bag that a supplier offers, its item typed by part of its name."""

    item = forms.CharField(
        max_length=80,
        widget=forms.TextInput(attrs={"list": "items-known", "autocomplete": "off"}),
        error_messages={"required": "Which item is it?"},
    )
    bag_count = forms.IntegerField(
        label="In a bag",
        min_value=1,
        max_value=100_000,
        error_messages=dict.fromkeys(
            ("required", "invalid", "min_value", "max_value"), COUNT_WRONG
        ),
    )

    def __init__(self, *args: Any, supplier: Supplier, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.supplier = supplier
        self.items: ItemsByName = items_by_name()
        self.fields["bag_cents"] = MoneyField(
            label=f"Bag price, {currency}",
            currency=currency,
            error_messages={"required": PRICE_MISSING},
        )

    def clean_item(self) -> Item:
        try:
            return self.items.meant(self.cleaned_data["item"])
        except ItemUnclear as unclear:
            raise forms.ValidationError(str(unclear)) from None

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        item, count = said.get("item"), said.get("bag_count")
        same = SupplierBag.objects.filter(supplier=self.supplier, item=item, bag_count=count)
        if item and count and same.exists():
            self.add_error("bag_count", OFFERED_ALREADY.format(count=count, item=item))
        return said


class OfferPriceForm(forms.Form):
    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["bag_cents"] = MoneyField(label=f"Bag price, {currency}", currency=currency)
        self.fields["bag_cents"].widget.attrs["class"] = "form-control"

    @classmethod
    def of(cls, offer: SupplierBag, *, currency: str) -> "OfferPriceForm":
        """Blank of errors, with today's price, and ids of its own among the others on a page."""
        now = {"bag_cents": offer.bag_cents}
        return cls(currency=currency, initial=now, auto_id=f"price-{offer.pk}-%s")
