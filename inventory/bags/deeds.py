"""The forms by which something happens to a bag, one for each kind of ledger line."""

from abc import ABCMeta, abstractmethod
from datetime import datetime
from typing import Any, ClassVar

from django import forms
from django.forms.forms import DeclarativeFieldsMetaclass

from inventory.bags.service import job_next_for, jobs_at_work, jobs_with_some_of
from inventory.holds.taking import (
    balloons_lose,
    balloons_lose_taken,
    balloons_return,
    balloons_take,
)
from inventory.ledger.service import (
    SAY_WHAT_FOR,
    SAY_WHY,
    By,
    bag_count,
    bag_lose,
    bag_lose_taken,
    bag_open,
    bag_return,
    bag_take,
    bag_throw_away,
)
from inventory.models import Bag
from inventory.models.ledger import LossReason

HOW_MANY = "A whole number, 1 or more."
HOW_MANY_COUNTED = "A whole number, 0 or more."
HOW = "How were they lost?"
WHY_LONGEST = 300


def _quantity(label: str, **given: Any) -> forms.IntegerField:
    errors = dict.fromkeys(("required", "invalid", "min_value"), HOW_MANY)
    return forms.IntegerField(label=label, **{"min_value": 1, "error_messages": errors, **given})


def _why(label: str = "Why", *, required: bool = False) -> forms.CharField:
    return forms.CharField(
        label=label,
        max_length=WHY_LONGEST,
        required=required,
        error_messages={"required": SAY_WHY},
    )


class DeedMeta(DeclarativeFieldsMetaclass, ABCMeta):
    """Of a form, and of something that cannot be made before it can act."""


class DeedForm(forms.Form, metaclass=DeedMeta):
    """`act` writes it to the ledger, or raises BagRefused."""

    deed: ClassVar[str]
    title: ClassVar[str]
    button: ClassVar[str]
    help: ClassVar[str] = ""

    def __init__(self, *args: Any, bag: Bag, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.bag = bag
        self.auto_id = f"id_{self.deed}_%s"

    @abstractmethod
    def act(self, *, by: By, now: datetime) -> None: ...


class OpenForm(DeedForm):
    deed, title, button = "open", "Open it", "Open the bag"

    def act(self, *, by: By, now: datetime) -> None:
        bag_open(bag=self.bag, by=by, now=now)


class _ForAJob(DeedForm):
    job = forms.ModelChoiceField(
        label="For which job", queryset=None, required=False, empty_label="No job"
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["job"].queryset = self.jobs()

    def jobs(self) -> Any:
        return jobs_at_work()


class TakeForm(_ForAJob):
    deed, title, button = "take", "Take some", "Take them"
    help = "A sealed bag is opened by it."

    quantity = _quantity("How many")
    why = _why("Without a job: what for")
    field_order = ("quantity", "job", "why")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["job"] = job_next_for(self.bag)

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if not said.get("job") and not said.get("why"):
            self.add_error("job", SAY_WHAT_FOR)
        return said

    def act(self, *, by: By, now: datetime) -> None:
        take = balloons_take if self.cleaned_data["job"] else bag_take
        take(bag=self.bag, by=by, now=now, **self.cleaned_data)


class ReturnForm(_ForAJob):
    deed, title, button = "return", "Put some back", "Put them back"
    help = "What was taken and not used."

    quantity = _quantity("How many")
    why = _why("Without a job: why")
    field_order = ("quantity", "job", "why")

    def jobs(self) -> Any:
        return jobs_with_some_of(self.bag)

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if not said.get("job") and not said.get("why"):
            self.add_error("job", SAY_WHAT_FOR)
        return said

    def act(self, *, by: By, now: datetime) -> None:
        give_back = balloons_return if self.cleaned_data["job"] else bag_return
        give_back(bag=self.bag, by=by, now=now, **self.cleaned_data)


class LoseForm(_ForAJob):
    deed, title, button = "lose", "Some were lost", "Write it down"
    help = "Balloons that did not last after inflating. They tell how good the lot is."

    quantity = _quantity("How many")
    reason = forms.ChoiceField(
        label="How",
        choices=[("", "Choose"), *LossReason.choices],
        error_messages={"required": HOW},
    )
    was_taken = forms.TypedChoiceField(
        label="Where were they",
        choices=[("yes", "Taken before, for a job"), ("no", "Straight out of this bag")],
        coerce=lambda value: value == "yes",
        initial="no",
        widget=forms.RadioSelect,
    )
    field_order = ("quantity", "reason", "was_taken", "job")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        taken_for = jobs_with_some_of(self.bag).first()
        self.initial |= {"job": taken_for, "was_taken": "yes" if taken_for else "no"}

    def jobs(self) -> Any:
        return jobs_at_work() | jobs_with_some_of(self.bag)

    def act(self, *, by: By, now: datetime) -> None:
        said = {name: self.cleaned_data[name] for name in ("quantity", "reason", "job")}
        self._way()(bag=self.bag, by=by, now=now, **said)

    def _way(self) -> Any:
        if self.cleaned_data["job"]:
            return balloons_lose_taken if self.cleaned_data["was_taken"] else balloons_lose
        return bag_lose_taken if self.cleaned_data["was_taken"] else bag_lose


class CountForm(DeedForm):
    deed, title, button = "count", "Count it", "Set it right"
    help = "What is wrong in the ledger is put right by another line."

    counted = forms.IntegerField(
        label="How many are in it",
        min_value=0,
        error_messages=dict.fromkeys(("required", "invalid", "min_value"), HOW_MANY_COUNTED),
    )
    why = _why("Why it differs")

    def act(self, *, by: By, now: datetime) -> None:
        bag_count(bag=self.bag, by=by, now=now, **self.cleaned_data)


class ThrowAwayForm(DeedForm):
    deed, title, button = "throw-away", "Throw it away", "Throw away"
    help = "Too old, wet, or entered by mistake. Empty: all that is left."

    quantity = _quantity("How many", required=False)
    why = _why(required=True)

    def act(self, *, by: By, now: datetime) -> None:
        bag_throw_away(bag=self.bag, by=by, now=now, **self.cleaned_data)


DEEDS = {form.deed: form for form in (
    OpenForm, TakeForm, ReturnForm, LoseForm, CountForm, ThrowAwayForm,
)}  # fmt: skip


def deeds_for(bag: Bag) -> list[type[DeedForm]]:
    """What can be done with the bag as it is."""
    fit = [] if bag.is_open or not bag.left else [OpenForm]
    fit += [TakeForm] if bag.left else []
    fit += [ReturnForm, LoseForm] if bag.is_open else [LoseForm]
    fit += [CountForm]
    return fit + ([ThrowAwayForm] if bag.left else [])
