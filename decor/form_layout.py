"""How every form is laid out, so that no two pages ask in different ways.

Labels above, help below, an error beside its field, a list of the errors at the top that links to
each (templates/bootstrap5/errors.html). The browser's own checks are off: ours say what is allowed.
"""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import HTML, Div, Layout, LayoutObject, Submit
from django.utils.html import format_html


def form_helper(
    *parts: str | LayoutObject, submit: str, keep: str = "", back_url: str = ""
) -> FormHelper:
    """The helper of a page's one form.

    `parts` are field names or layout objects in the order asked; `submit` is the word on the
    button; `keep` is the key under which keep.js holds what is typed; `back_url` leads away.
    """
    helper = FormHelper()
    helper.layout = Layout(*parts, _actions(submit, back_url))
    helper.attrs = {"novalidate": ""}
    if keep:
        helper.attrs["data-keep"] = keep
    return helper


def _actions(submit: str, back_url: str) -> Div:
    # The name is not "submit": that would hide the form's own submit() from scripts.
    buttons: list[LayoutObject] = [Submit("save", submit)]
    if back_url:
        buttons.append(HTML(format_html('<a class="btn btn-link" href="{}">Back</a>', back_url)))
    return Div(*buttons, css_class="form-actions")
