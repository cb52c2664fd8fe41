from dataclasses import dataclass

import pytest
from crispy_forms.utils import render_crispy_form
from django import forms
from django.template import Context, Template
from django.urls import reverse

from decor.form_layout import form_helper
from decor.models.job import Stage
from decor.templatetags.look import BAR, ON_THE_STRING, UNDER_MORE, safe_colour


@dataclass(frozen=True)
class Swatch:
    name: str
    hex: str


PALETTE = [Swatch("oat", "#efe3cf"), Swatch("fern", "#6b8f5a"), Swatch("plum", "#6d3b5e")]


def render(text: str, **context) -> str:
    return Template("{% load look %}" + text).render(Context(context))


class AskForm(forms.Form):
    name = forms.CharField(help_text="What you call them.")
    day = forms.DateField(required=False)
    fullness = forms.ChoiceField(choices=[("slim", "Slim")], widget=forms.RadioSelect)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.helper = form_helper("name", "day", "fullness", submit="Ask", keep="asking")

    def clean(self):
        raise forms.ValidationError("Not on a Sunday.")


@pytest.mark.parametrize("stage", ON_THE_STRING)
def test_a_job_stands_at_one_stage_and_has_passed_those_before(stage):
    said = render("{% stage_string stage %}", stage=stage.value)
    assert said.count('aria-current="step"') == 1
    assert said.count("(passed)") == ON_THE_STRING.index(stage)
    assert said.count('class="ahead"') == len(ON_THE_STRING) - 1 - ON_THE_STRING.index(stage)
    assert all(step.label in said for step in ON_THE_STRING)


def test_a_job_called_off_shows_how_far_it_came_and_that_word():
    said = render("{% stage_string stage reached %}", stage="called_off", reached="made")
    assert said.count("(passed)") == ON_THE_STRING.index(Stage.MADE) + 1
    assert "Called off" in said
    assert "Done" not in said


def test_a_lost_job_was_at_least_asked_for():
    said = render("{% stage_string stage %}", stage=Stage.LOST)
    assert said.count("(passed)") == 1
    assert "Lost" in said


def test_a_palette_names_each_circle():
    said = render("{% palette swatches %}", swatches=PALETTE)
    assert said.count("<circle") == 3
    for swatch in PALETTE:
        assert swatch.name in said
        assert f'fill="{swatch.hex}"' in said


def test_a_palette_string_says_its_names_to_those_who_do_not_see_it():
    assert 'aria-label="Palette: oat, fern, plum"' in render(
        "{% palette_string swatches %}", swatches=PALETTE
    )


def test_no_palette_is_said_too():
    assert "No palette yet" in render("{% palette_string swatches %}", swatches=[])


@pytest.mark.parametrize("value", ["", None, "red", "#12345", '#123456" onload="x', "url(#a)"])
def test_what_is_no_colour_never_reaches_a_drawing(value):
    assert safe_colour(value) == "#ffffff"


def test_a_form_lists_its_errors_at_the_top_and_each_leads_to_its_field():
    form = AskForm({"name": "", "day": "soon"})
    page = render_crispy_form(form)
    assert "4 things need mending" in page
    assert "Not on a Sunday." in page
    for field_id in ("id_name", "id_day", "id_fullness_0"):
        assert f'href="#{field_id}"' in page
        assert f'id="{field_id}"' in page
    assert page.index("data-form-problems") < page.index('id="id_name"')


def test_a_field_has_its_label_above_and_its_error_and_help_below():
    page = render_crispy_form(AskForm({"name": "", "fullness": "slim"}))
    places = [
        page.index(part) for part in ('for="id_name"', '<input type="text"', "invalid-feedback")
    ]
    assert places == sorted(places)
    assert page.index("invalid-feedback") < page.index("What you call them.")
    assert 'aria-invalid="true"' in page
    assert 'id="id_name_error"' in page
    assert 'aria-describedby="id_name_helptext id_name_error"' in page


def test_a_sound_form_shows_no_list_of_errors_and_is_kept_under_its_key():
    page = render_crispy_form(AskForm())
    assert "data-form-problems" not in page
    assert 'data-keep="asking"' in page
    assert "novalidate" in page


def test_every_place_can_be_reached(owner_client):
    page = owner_client.get(reverse("client_list")).content.decode()
    for place in (*BAR, *UNDER_MORE):
        assert f'href="{reverse(place.url_name)}"' in page
    assert f'href="{reverse("enquiry_new")}"' in page
    assert page.count('aria-current="true"') == 1


def test_a_stranger_sees_no_places(client, business):
    page = client.get(reverse("login")).content.decode()
    assert 'class="places"' not in page
    assert business.name in page
