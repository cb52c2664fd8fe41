"""How a helper gets a login, and how anyone sets a password of their own."""

from typing import Any

from django import forms
from django.contrib.auth import get_user_model
from django.contrib.auth.forms import PasswordChangeForm
from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.crew.logins import NAME_IS_TAKEN, name_is_taken
from decor.form_layout import form_helper

MOST_LETTERS = 40


class LoginForm(forms.Form):
    username = forms.CharField(
        label="Name to log in with",
        max_length=MOST_LETTERS,
        help_text="Letters, figures and - . _ @ +, without spaces.",
        validators=[get_user_model().username_validator],
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )

    def __init__(self, *args: Any, back_url: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_helper("username", submit="Make the login", back_url=back_url)

    def clean_username(self) -> str:
        username = self.cleaned_data["username"]
        if name_is_taken(username):
            raise ValidationError(NAME_IS_TAKEN)
        return username


class OwnPasswordForm(PasswordChangeForm):
    """The old one is asked for too: a phone may lie about unlocked."""

    def __init__(self, user: User, *args: Any, is_given: bool = False, **kwargs: Any) -> None:
        super().__init__(user, *args, **kwargs)
        self.fields["old_password"].label = (
            "The password you were given" if is_given else "Your password until now"
        )
        self.fields["new_password1"].label = "A password of your own"
        self.fields[
            "new_password1"
        ].help_text = "Eight characters or more, and nothing that is easy to guess."
        self.fields["new_password2"].label = "The same again"
        self.fields["new_password2"].help_text = ""
        self.helper = form_helper(
            "old_password",
            "new_password1",
            "new_password2",
            submit="Set the password",
            back_url="" if is_given else reverse("home"),
        )
