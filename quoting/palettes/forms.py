from collections.abc import Sequence
from typing import Any

from django import forms

from decor.jobs.forms import PhotosForm
from quoting.estimator.palette import ColourError, parse_colour, parse_colours
from quoting.palettes.balloons import Balloon

NOTHING_NAMED = "Type a colour, or tick one from your catalogue."
NO_COLOUR = "Type a colour, or press one from your catalogue."
EXAMPLE = "#e8dcc6 or rgb(232, 220, 198)"


class IdeaPhotoForm(PhotosForm):
    """Kept among the job's photos, as the client will ask what the colours came from."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["photos"]
        field.label = "Add a photo"
        field.help_text = "JPEG, PNG or WebP, up to 20 MB. It is kept with the job."
        field.widget.allow_multiple_selected = False
        field.widget.attrs.pop("multiple", None)


class NamedColoursForm(forms.Form):
    """Typed, ticked, or both."""

    colours = forms.CharField(
        label="Colours",
        required=False,
        max_length=600,
        help_text=f"Such as {EXAMPLE}; several with commas between them.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "data-takes-picked": "many"}),
    )

    def __init__(self, *args: Any, balloons: Sequence[Balloon], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._hexes = {balloon.key: balloon.hex for balloon in balloons}
        self.fields["shelf"] = forms.MultipleChoiceField(
            label="From your catalogue",
            required=False,
            choices=[(balloon.key, balloon.name) for balloon in balloons],
            error_messages={"invalid_choice": "One of these is not in the catalogue any more."},
        )

    def clean_colours(self) -> tuple[str, ...]:
        text = self.cleaned_data["colours"]
        try:
            return parse_colours(text) if text else ()
        except ColourError as refused:
            raise forms.ValidationError(_sentences(refused)) from None

    def clean(self) -> None:
        if not self.errors and not self.hexes():
            self.add_error("colours", NOTHING_NAMED)

    def hexes(self) -> tuple[str, ...]:
        ticked = [self._hexes[key] for key in self.cleaned_data.get("shelf", ())]
        return tuple(dict.fromkeys([*ticked, *self.cleaned_data.get("colours", ())]))


class OneColourForm(forms.Form):
    colour = forms.CharField(
        label="One colour",
        max_length=60,
        help_text=f"Such as {EXAMPLE}.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "data-takes-picked": "one"}),
        error_messages={"required": NO_COLOUR},
    )

    def clean_colour(self) -> str:
        try:
            return parse_colour(self.cleaned_data["colour"])
        except ColourError as refused:
            raise forms.ValidationError(_sentences(refused)) from None


def _sentences(refused: ColourError) -> list[str]:
    """What is wrong with each, without the key by which the estimator knows it."""
    return [f"{each.message[:1].upper()}{each.message[1:]}." for each in refused.problems]
