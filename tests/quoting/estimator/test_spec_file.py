from dataclasses import FrozenInstanceError

import pytest

from quoting.estimator import Spec, SpecError, example_catalogue, spec_from_dict, spec_to_dict
from quoting.estimator.spec import Arch, Backing, Pattern, Site

from .garlands import garland, plain_garland


def test_a_full_spec_reads_into_its_parts():
    spec = spec_from_dict(garland(), catalogue=example_catalogue())
    assert spec.path == Arch(width_m=2.4, height_m=2.1)
    assert spec.width[1].width_m == 0.70
    assert spec.accents[0].bunch == 4
    assert spec.site.hung_at_c == 4
    assert spec.fillers.inflated_in == (3.5, 4.5)


def test_what_is_left_out_has_its_default():
    spec = spec_from_dict(plain_garland())
    assert (spec.backing, spec.cluster_of, spec.pattern) == (Backing.FREE, 8, Pattern.SPREAD)
    assert (spec.fillers, spec.singles, spec.accents, spec.starbursts) == (None, None, (), ())
    assert (spec.site, spec.crew, spec.travel, spec.confidence) == (Site(), 1, None, 0.95)
    assert spec.site.hung_at_c == spec.site.made_at_c


def test_a_spec_cannot_be_changed():
    spec = spec_from_dict(garland())
    with pytest.raises(FrozenInstanceError):
        spec.crew = 2


@pytest.mark.parametrize("data", [garland(), plain_garland(), garland(pattern="blend")])
def test_writing_and_reading_again_gives_the_same_spec(data):
    spec = spec_from_dict(data)
    assert isinstance(spec, Spec)
    assert spec_from_dict(spec_to_dict(spec)) == spec


def test_without_a_catalogue_colours_are_taken_on_trust():
    assert spec_from_dict(plain_garland(base=[{"colour": "zinc", "share": 1}]))


def test_all_problems_are_found_at_once_and_the_text_is_one_line():
    data = garland(
        path={"kind": "line", "length_m": 4000},
        base=[{"colour": "oat", "share": 0.5}],
        crew=0,
        seed="x",
        site={"gust_mps": -1, "wet": True},
    )
    with pytest.raises(SpecError) as refused:
        spec_from_dict(data)
    keys = [problem.key for problem in refused.value.problems]
    assert keys == ["path.length_m", "base", "site.wet", "site.gust_mps", "crew", "seed"]
    text = str(refused.value)
    assert "\n" not in text
    assert text.endswith("and 3 more")
