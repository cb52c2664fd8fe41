"""Plans backward from the installs against trying every plan there is, and a flow by scipy."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_flow

from quoting.estimator.planning import (
    STEP_MINUTES,
    Bench,
    JobToMake,
    Kind,
    MakingPlan,
    plan_making,
    what_would_help,
)

MONDAY = date(2026, 6, 1)
DAYS = [MONDAY + timedelta(days=n) for n in range(8)]


@st.composite
def small_weeks(draw: st.DrawFn) -> tuple[list[JobToMake], Bench]:
    """Two or three jobs, up to four days, a few half hours: few enough plans to try them all."""
    count = draw(st.integers(2, 3))
    jobs = [
        JobToMake(
            job=name,
            minutes=STEP_MINUTES * draw(st.integers(0, 4)),
            install_on=DAYS[draw(st.integers(1, 4))],
            oldest_days=draw(st.integers(0, 2)),
            on_the_day=draw(st.booleans()),
        )
        for name in ("a", "b", "c")[:count]
    ]
    free = {on: STEP_MINUTES * draw(st.integers(0, 4)) for on in DAYS[:4]}
    return jobs, Bench(free_minutes=free, session_minutes=STEP_MINUTES * draw(st.integers(1, 3)))


def ways_of(job: JobToMake, bench: Bench) -> Iterator[dict[date, int]]:
    """Every way to spread a job, whole or in part, over its days."""
    most = bench.session_minutes // STEP_MINUTES
    days = [on for on in bench.free_minutes if job.allows(on)]
    for steps in product(*(range(most + 1) for _ in days)):
        if sum(steps) * STEP_MINUTES <= job.minutes:
            yield dict(zip(days, steps, strict=True))


def every_plan(jobs: Sequence[JobToMake], bench: Bench) -> Iterator[tuple[dict[date, int], ...]]:
    for plan in product(*(list(ways_of(job, bench)) for job in jobs)):
        used = {on: sum(spread.get(on, 0) for spread in plan) for on in bench.free_minutes}
        if all(steps * STEP_MINUTES <= bench.free_minutes[on] for on, steps in used.items()):
            yield plan


def goodness(jobs: Sequence[JobToMake], plan: Sequence[Mapping[date, int]]) -> tuple:
    """What a plan is judged by, in this order: steps made in all; of the job installed first, of
    the next; then the fewest step-days of age."""
    in_order = sorted(range(len(jobs)), key=lambda at: jobs[at].install_on)
    made = [sum(plan[at].values()) for at in in_order]
    age = sum(
        (job.install_on - on).days * steps
        for job, spread in zip(jobs, plan, strict=True)
        for on, steps in spread.items()
    )
    return (sum(made), *made, -age)


def spreads(jobs: Sequence[JobToMake], plan: MakingPlan) -> list[dict[date, int]]:
    return [
        {s.on: s.minutes // STEP_MINUTES for s in plan.sessions if s.job == job.job} for job in jobs
    ]


@settings(max_examples=60)
@given(small_weeks())
def test_no_plan_at_all_is_better(week: tuple[list[JobToMake], Bench]) -> None:
    jobs, bench = week
    ours = spreads(jobs, plan_making(jobs, bench=bench))

    plans = list(every_plan(jobs, bench))

    whole = [{on: n for on, n in spread.items() if n} for spread in ours]
    assert whole in [[{on: n for on, n in s.items() if n} for s in plan] for plan in plans]
    assert goodness(jobs, ours) == max(goodness(jobs, plan) for plan in plans)


def most_by_flow(jobs: Sequence[JobToMake], bench: Bench) -> int:
    """Steps: source to jobs, jobs to their days, days to sink."""
    days = list(bench.free_minutes)
    sink = 1 + len(jobs) + len(days)
    room = np.zeros((sink + 1, sink + 1), dtype=np.int32)
    for at, job in enumerate(jobs, start=1):
        room[0, at] = job.minutes // STEP_MINUTES
        for to, on in enumerate(days, start=1 + len(jobs)):
            if job.allows(on):
                room[at, to] = bench.session_minutes // STEP_MINUTES
            room[to, sink] = bench.free_minutes[on] // STEP_MINUTES
    return int(maximum_flow(csr_array(room), 0, sink).flow_value)


def busy_season(seed: int) -> tuple[list[JobToMake], Bench]:
    rng = np.random.default_rng(seed)
    days = [MONDAY + timedelta(days=n) for n in range(21)]
    jobs = [
        JobToMake(
            job=f"job {at}",
            minutes=STEP_MINUTES * int(rng.integers(4, 20)),
            install_on=days[int(rng.integers(1, 21))],
            oldest_days=int(rng.integers(1, 4)),
        )
        for at in range(15)
    ]
    free = {on: STEP_MINUTES * int(rng.integers(0, 13)) for on in days}
    return jobs, Bench(free_minutes=free, session_minutes=4 * 60)


def test_as_much_is_made_of_a_busy_season_as_the_maximum_flow() -> None:
    tight = 0
    for seed in range(25):
        jobs, bench = busy_season(seed)
        plan = plan_making(jobs, bench=bench)
        needed = sum(job.minutes for job in jobs)

        assert sum(s.minutes for s in plan.sessions) == most_by_flow(jobs, bench) * STEP_MINUTES
        assert plan.short_minutes == needed - most_by_flow(jobs, bench) * STEP_MINUTES
        tight += not plan.fits
    assert tight > 0  # some do not fit: otherwise nothing was tried


@settings(max_examples=25)
@given(small_weeks())
def test_each_relief_brings_what_it_says_by_flow(week: tuple[list[JobToMake], Bench]) -> None:
    """More hours on one day: tried on every day, and asking for less would bring less."""
    jobs, bench = week
    without = most_by_flow(jobs, bench)
    short = sum(job.minutes for job in jobs) // STEP_MINUTES - without
    said = {
        relief.on: relief
        for relief in what_would_help(jobs, bench=bench)
        if relief.kind is Kind.MORE_HOURS
    }
    for on, free in bench.free_minutes.items():
        widest = most_by_flow(jobs, _with(bench, on, free + short * STEP_MINUTES))
        saved = (widest - without) * STEP_MINUTES
        assert (said[on].saves_minutes if on in said else 0) == saved
        if on in said:
            asked = most_by_flow(jobs, _with(bench, on, free + said[on].minutes))
            less = most_by_flow(jobs, _with(bench, on, free + said[on].minutes - STEP_MINUTES))
            assert asked == widest > less


def _with(bench: Bench, on: date, minutes: int) -> Bench:
    free = {**bench.free_minutes, on: minutes}
    return Bench(free_minutes=free, session_minutes=bench.session_minutes)
