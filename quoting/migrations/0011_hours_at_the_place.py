import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("decor", "0008_hours_in_one_session"),
        ("quoting", "0010_look_backs"),
    ]

    operations = [
        migrations.AddField(
            model_name="worktime",
            name="visit",
            field=models.ForeignKey(
                blank=True,
                help_text="Where it was done; empty at the bench, and where nobody said",
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="work_times",
                to="decor.visit",
            ),
        ),
    ]
