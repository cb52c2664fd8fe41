from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('quoting', '0007_the_client_page'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='clientanswer',
            name='who_accepts_gives_a_name_and_has_an_outcome',
        ),
        migrations.AlterField(
            model_name='clientanswer',
            name='outcome',
            field=models.CharField(blank=True, choices=[('held', 'Everything is held'), ('to_buy', 'Held, and something must be bought'), ('to_confirm', 'The owner must confirm'), ('time_taken', 'Its time was taken meanwhile')], max_length=12),
        ),
        migrations.AddConstraint(
            model_name='clientanswer',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('kind', 'declined'), ('outcome', '')), models.Q(('kind', 'accepted'), ('outcome__in', ['held', 'to_buy', 'to_confirm', 'time_taken']), models.Q(('typed_name', ''), _negated=True)), _connector='OR'), name='who_accepts_gives_a_name_and_has_an_outcome'),
        ),
    ]
