from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from decor.pictures import ACCEPT


class ManyFilesInput(forms.FileInput):
    allow_multiple_selected = True

    def value_from_datadict(self, data: Any, files: Any, name: str) -> list[UploadedFile]:
        return files.getlist(name) if hasattr(files, "getlist") else []


class PhotosField(forms.Field):
    """Several files at once, as they came: jobs/photos.py reads them."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=ManyFilesInput(attrs={"accept": ACCEPT}), **kwargs)
