from collections.abc import Mapping
from typing import Any

from django import forms

from decor.display import money_text
from quoting.client_page.typed import one_line, some_lines
from quoting.models import ClientAnswer, ClientQuestion, Edition
from quoting.quotes.combinations import Chosen, counted_choice, frozen_choices

CHOOSE = "Choose one of them."
READ_TERMS = "Tick this when you have read them."
YOUR_NAME = "Type your name."
SAY_WHY = "Choose the reason that comes nearest."
ASK_SOMETHING = "Type your question."
TOO_LONG = "At most {most} characters, please."

REASONS = (
    ("price", "It costs more than we can spend"),
    ("other", "We found something else"),
    ("day", "The day or the place has changed"),
    ("not_it", "It is not what we had in mind"),
    ("reason", "Another reason"),
)
LONGEST_WORDS = 800


class AcceptForm(forms.Form):
    """One set of options for each thing that has variants; the terms; a name."""

    prefix = "accept"

    def __init__(self, *args: Any, edition: Edition, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.edition = edition
        self.choices = frozen_choices(edition.result)
        counted = counted_choice(edition.result)
        fields = {
            _name(number): _choice_field(options, counted[number], edition, alone=self.has_one)
            for number, options in self.choices.items()
        }
        self.fields = {**fields, **self._who()}
        # The browser must not send what was not read: its own check is a help here.
        self.use_required_attribute = False

    @property
    def has_one(self) -> bool:
        return len(self.choices) == 1

    @property
    def choice_fields(self) -> list[forms.BoundField]:
        return [self[_name(number)] for number in self.choices]

    @property
    def has_several(self) -> bool:
        return len(self.choices) > 1

    def chosen(self) -> Chosen | None:
        """None where something was not chosen, or cannot be."""
        picked = {number: self.cleaned_data.get(_name(number)) for number in self.choices}
        return {number: int(pk) for number, pk in picked.items()} if all(picked.values()) else None

    def unchecked(self) -> "AcceptForm":
        """With what was typed so far and no word of what is still missing."""
        typed = {name: self[name].value() for name in self.fields}
        return AcceptForm(edition=self.edition, initial=typed)

    def _who(self) -> Mapping[str, forms.Field]:
        longest = ClientAnswer._meta.get_field("typed_name").max_length
        return {
            "terms": forms.BooleanField(
                label="I have read the terms and the safety notes above",
                error_messages={"required": READ_TERMS},
            ),
            "name": NameField(
                label="Your name",
                help_text="Typing it here stands for your signature.",
                max_length=longest,
                error_messages={
                    "required": YOUR_NAME,
                    "max_length": TOO_LONG.format(most=longest),
                },
                widget=forms.TextInput(attrs={"autocomplete": "name", "maxlength": longest}),
            ),
        }


class NameField(forms.CharField):
    def to_python(self, value: Any) -> str:
        return one_line(super().to_python(value))


class WordsField(forms.CharField):
    def to_python(self, value: Any) -> str:
        return some_lines(super().to_python(value))


class DeclineForm(forms.Form):
    prefix = "decline"
    why = forms.ChoiceField(
        label="Why not?",
        choices=REASONS,
        widget=forms.RadioSelect,
        error_messages={"required": SAY_WHY, "invalid_choice": SAY_WHY},
    )
    words = WordsField(
        label="Something to add (optional)",
        required=False,
        max_length=LONGEST_WORDS,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"max_length": TOO_LONG.format(most=LONGEST_WORDS)},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, use_required_attribute=False, **kwargs)

    def reason(self) -> str:
        said = dict(REASONS)[self.cleaned_data["why"]]
        words = self.cleaned_data["words"]
        return f"{said}: {words}" if words else f"{said}."


class AskForm(forms.Form):
    prefix = "ask"
    text = WordsField(
        label="Your question",
        max_length=ClientQuestion._meta.get_field("text").max_length,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={
            "required": ASK_SOMETHING,
            "max_length": TOO_LONG.format(most=ClientQuestion._meta.get_field("text").max_length),
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, use_required_attribute=False, **kwargs)


def _name(number: int) -> str:
    return f"choice_{number}"


def _choice_field(
    options: list[Mapping[str, Any]], counted: int, edition: Edition, *, alone: bool
) -> forms.ChoiceField:
    title = next(option["title"] for option in options if option["id"] == counted)
    return forms.ChoiceField(
        label=title,
        choices=[(option["id"], _option_text(option, edition, alone)) for option in options],
        initial=counted,
        widget=forms.RadioSelect,
        error_messages={"required": CHOOSE, "invalid_choice": CHOOSE},
    )


def _option_text(option: Mapping[str, Any], edition: Edition, alone: bool) -> str:
    """With nothing else to choose, what it all comes to."""
    name = f"{option['variant']}: {option['title']}"
    if not alone:
        return name
    total = money_text(option["total_cents"], edition.currency)
    deposit = option["payment"]["deposit_cents"]
    first = f", {money_text(deposit, edition.currency)} of it when you accept" if deposit else ""
    return f"{name}. {total} in all{first}"
