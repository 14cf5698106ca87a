from django.db import migrations, models


def every_password_so_far_was_given(apps, schema_editor):
    """Until here nobody could choose a password, so whoever enrolled a person still knows it."""
    apps.get_model("people", "Person").objects.update(first_password=True)


class Migration(migrations.Migration):
    dependencies = [("people", "0001_initial")]

    operations = [
        migrations.AddField(
            model_name="person",
            name="first_password",
            field=models.BooleanField(default=False),
        ),
        migrations.RunPython(every_password_so_far_was_given, migrations.RunPython.noop),
    ]
