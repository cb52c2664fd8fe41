"""Hours by phase, and hours by the clock."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from ..estimating import Estimate
from ..hours import LabourLine, elapsed_hours, inflate_seconds, slowed
from ..orders import OrderConditions
from ..rates import UnitTimes
from ..recipe import Needed
from ..sundries import fixing_count
from ..wording import amount
from .term import Explanation, Formula, Term, of_piece, of_rates, worked_out

USUAL_TIMES: Final = UnitTimes()
OWN: Final = "your own"
NOT_YET_OWN: Final = "still the one that everybody begins with"


def work(est: Estimate) -> Iterator[Explanation]:
    for line in est.labour:
        formula, parts = _PHASES[line.phase](est)
        yield Explanation(
            key=f"hours {line.phase}",
            title=f"Hours: {line.phase}",
            formula=formula,
            parts=parts,
            value=line.person_hours,
            unit="h",
            to_change=_a_tenth_quicker(est, line),
        )
    yield _all_hours(est)
    yield _elapsed(est)


def _a_tenth_quicker(est: Estimate, line: LabourLine) -> str:
    hours = line.person_hours / 10
    saved = amount(round(hours * est.rates.labour_rate(line.phase)))
    return (
        "Measure your own time and put it on the rate card: a tenth quicker saves "
        f"{60 * hours:.0f} min and {saved}."
    )


def _all_hours(est: Estimate) -> Explanation:
    parts = tuple(
        worked_out(f"h{i}", line.phase, line.person_hours, "h", see=f"hours {line.phase}")
        for i, line in enumerate(est.labour, start=1)
    )
    return Explanation(
        key="person hours",
        title="Hours of work",
        formula=" + ".join(part.symbol for part in parts),
        parts=parts,
        value=est.person_hours,
        unit="h",
        to_change="The longest phase is where a better way pays most.",
    )


def _elapsed(est: Estimate) -> Explanation:
    times = est.rates.unit_times
    extra = times.extra_person_share
    one_more = elapsed_hours(est.person_hours, est.spec.crew + 1, times)
    return Explanation(
        key="elapsed hours",
        title="Hours by the clock",
        formula="h / p × (1 + e × (p − 1))",
        parts=(
            worked_out("h", "hours of work", est.person_hours, "h", see="person hours"),
            of_piece("p", "people", est.spec.crew, "each"),
            of_rates("e", "longer for each further person", extra, "of 1"),
        ),
        value=est.elapsed_hours,
        unit="h",
        to_change=f"With one more person it is {one_more:.1f} h.",
    )


def _seconds(symbol: str, what: str, times: UnitTimes, name: str) -> Term:
    return _time(symbol, what, getattr(times, name), usual=getattr(USUAL_TIMES, name))


def _time(symbol: str, what: str, seconds: float, *, usual: float) -> Term:
    """Says whether it is a maker's own or what everybody begins with."""
    whose = NOT_YET_OWN if seconds == usual else OWN
    term = of_rates(symbol, what, seconds, "s")
    return replace(term, provenance=f"{term.provenance}, {whose}")


def _count(symbol: str, what: str, count: float, see: str = "") -> Term:
    return worked_out(symbol, what, count, "each", see=see)


def _inflating(lines: Iterable[Needed], times: UnitTimes) -> Formula:
    """Without the hours: a sum in seconds, one pair of terms for each unit time."""
    by_time: dict[float, list[Needed]] = {}
    for line in lines:
        if line.kind == "latex" and line.count:
            by_time.setdefault(inflate_seconds(line, times), []).append(line)
    parts: list[Term] = []
    for i, (seconds, same) in enumerate(by_time.items(), start=1):
        sizes = " and ".join(dict.fromkeys(f"{line.nominal_in:g}-inch" for line in same))
        parts.append(_count(f"n{i}", sizes, sum(line.count for line in same)))
        usual = inflate_seconds(same[0], USUAL_TIMES)
        parts.append(_time(f"t{i}", f"one {sizes}", seconds, usual=usual))
    return " + ".join(f"n{i} × t{i}" for i in range(1, len(by_time) + 1)), tuple(parts)


def _inflate(est: Estimate) -> Formula:
    made = [line for line in est.make.needed if line.use != "single"]
    formula, parts = _inflating(made, est.rates.unit_times)
    return f"({formula}) / 3600", parts


def _clusters(est: Estimate) -> Term:
    return _count("C", "clusters", est.make.cluster_count, see="clusters")


def _twist(est: Estimate) -> Formula:
    times, of = est.rates.unit_times, est.make.cluster_of
    name = "twist_four_s" if of == 4 else "twist_eight_s"
    return _each(_clusters(est), _seconds("t", f"twist one of {of}", times, name))


def _each(thing: Term, seconds: Term) -> Formula:
    return f"{thing.symbol} × {seconds.symbol} / 3600", (thing, seconds)


def _minis(est: Estimate) -> Formula:
    minis = _count("M", "minis", est.make.minis, see="minis")
    return _each(minis, _seconds("t", "make one", est.rates.unit_times, "mini_s"))


def _starbursts(est: Estimate) -> Formula:
    bursts = _count("B", "starbursts", est.make.starbursts)
    return _each(bursts, _seconds("t", "make one", est.rates.unit_times, "starburst_s"))


def _pack(est: Estimate) -> Formula:
    return _each(_clusters(est), _seconds("t", "pack one", est.rates.unit_times, "pack_cluster_s"))


def _load(est: Estimate) -> Formula:
    times = est.rates.unit_times
    load, unload = (
        _seconds("l", "load", times, "load_s"),
        _seconds("u", "unload", times, "unload_s"),
    )
    return "(l + u) / 3600", (load, unload)


def _drive(est: Estimate) -> Formula:
    return "2 × r × m × p / 60", (
        round_trips("r", est.conditions),
        of_piece("m", "minutes one way", est.conditions.drive_minutes, "min"),
        of_piece("p", "people", est.spec.crew, "each"),
    )


def round_trips(symbol: str, conditions: OrderConditions) -> Term:
    return of_piece(symbol, "there and back; once more to strike", conditions.round_trips, "each")


def _strike(est: Estimate) -> Formula:
    times = est.rates.unit_times
    return "(s + L × t) / 3600", (
        _seconds("s", "take a piece down, once", times, "strike_s"),
        worked_out("L", "length", est.path_length_m, "m", see="path length"),
        _seconds("t", "for each metre", times, "strike_per_m_s"),
    )


def _hang(est: Estimate) -> Formula:
    times, make = est.rates.unit_times, est.make
    large = [line for line in make.needed if line.use == "single"]
    inflating, singles = _inflating(large, times)
    factor, reasons = slowed(est.spec, times)
    inflating = f" + {inflating}" if inflating else ""
    why = reasons.removeprefix("; ") or "no ladder, cold or rain"
    return f"(C × j + (f + S) × q + a × g{inflating}) × w / 3600", (
        _clusters(est),
        _seconds("j", "join a cluster", times, "join_cluster_s"),
        _count("f", "fixings: bunches, minis, twice the starbursts", fixing_count(make)),
        _count("S", "large singles", make.singles),
        _seconds("q", "fix one", times, "attach_s"),
        _count("a", "anchors", est.wind.anchors, see="anchors"),
        _seconds("g", "tie one", times, "anchor_s"),
        *singles,
        of_rates("w", f"slower: {why}", factor, "times"),
    )


def _check(est: Estimate) -> Formula:
    hang = sum(line.person_hours for line in est.labour if line.phase == "hang")
    return "h × k", (
        worked_out("h", "hanging", hang, "h", see="hours hang"),
        of_rates("k", "step back, check and fill", est.rates.unit_times.check_share, "of 1"),
    )


_PHASES: Final = {
    "inflate and tie": _inflate,
    "twist clusters": _twist,
    "mini-clusters": _minis,
    "starbursts": _starbursts,
    "pack": _pack,
    "load and unload": _load,
    "drive": _drive,
    "hang": _hang,
    "check and fill": _check,
    "strike": _strike,
}
