from datetime import date

from django.urls import path, register_converter

from quoting.making import views, worker


class DayConverter:
    regex = "[0-9]{4}-[0-9]{2}-[0-9]{2}"

    def to_python(self, value: str) -> date:
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        return value.isoformat()


register_converter(DayConverter, "day")

urlpatterns = [
    path("sheet-worker.js", worker.sheet_worker, name="sheet_worker"),
    path("making/<int:job_pk>/", views.making_sheet, name="making_sheet"),
    path("making/<int:job_pk>/told/", views.making_told, name="making_told"),
    path("making/<int:job_pk>/press/", views.making_press, name="making_press"),
    path("making/<int:job_pk>/hours/", views.making_hours, name="making_hours"),
    path("making/<int:job_pk>/sheet.pdf", views.making_pdf, name="making_pdf"),
    path("making/<int:job_pk>/labels.pdf", views.making_labels, name="making_labels"),
    path("making/<day:on>/", views.making_day, name="making_day"),
    path("making/<day:on>/press/", views.making_day_press, name="making_day_press"),
]
