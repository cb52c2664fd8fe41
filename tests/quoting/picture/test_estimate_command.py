import json

import pytest
from django.core.management import CommandError, call_command

from tests.quoting.estimator.garlands import garland

from .pictured import drawn_in


@pytest.fixture
def spec_file(tmp_path):
    file = tmp_path / "spec.json"
    file.write_text(json.dumps(garland()))
    return str(file)


def test_the_command_writes_the_picture_beside_the_result(spec_file, tmp_path, capsys):
    out = tmp_path / "picture.svg"
    call_command("estimate", spec_file, picture=str(out))
    result = json.loads(capsys.readouterr().out)
    assert len(drawn_in(out.read_text())) == sum(line["need"] for line in result["balloons"])


def test_a_picture_that_cannot_be_written_is_refused_in_one_line(spec_file, tmp_path, capsys):
    with pytest.raises(CommandError) as refused:
        call_command("estimate", spec_file, picture=str(tmp_path / "nowhere" / "picture.svg"))
    assert refused.value.returncode == 2
    assert "cannot be written" in str(refused.value)
    assert "\n" not in str(refused.value)
    assert capsys.readouterr().out == ""
