"""How many of everything, and how many spares."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from .. import constants as c
from ..balloons import BalloonLine, loss_rate, usual_loss
from ..estimating import Estimate
from ..filling import mean_volume, taken_volume
from ..recipe import BunchLine
from .term import (
    CATALOGUE,
    Explanation,
    Formula,
    Term,
    of_constant,
    of_piece,
    of_rates,
    rounding,
    worked_out,
)

_BODY_CHANGE: Final = (
    "Inflate larger or make it slimmer: the count goes as one over the diameter cubed, so "
    "balloons a twentieth larger are about a seventh fewer."
)


def counts(est: Estimate) -> Iterator[Explanation]:
    yield from _body(est)
    yield from _clusters(est)
    yield from _pairs(est)
    yield from _extras(est)
    for line in est.balloons:
        yield _need(est, line)
        yield _spares(est, line)


def line_key(line: BalloonLine) -> str:
    """`base oat 11`; foil points are `starburst copper points`."""
    size = "points" if line.nominal_in is None else f"{line.nominal_in:g}"
    return f"{line.use} {line.colour} {size}"


def _fill(est: Estimate) -> Term:
    what = "how tightly balloons fill it"
    return of_rates("φ", what, est.rates.fill, c.FILL.unit, c.FILL)


def _envelope(est: Estimate) -> Term:
    return worked_out("V", "room inside its outline", est.envelope_m3, "m3", see="envelope")


def _mean(est: Estimate) -> Term:
    what = "mean volume of a base balloon, inflated"
    return worked_out("v", what, mean_volume(est.spec), "m3")


def _taken(est: Estimate, fraction: float, swell: float) -> Term:
    """As it stands beside a base balloon of its plain size: the swell goes out of both."""
    whole = fraction * est.envelope_m3 / (mean_volume(est.spec) * swell**3)
    taken = taken_volume(est.spec, length_m=est.path_length_m, whole=whole)
    return worked_out("t", "what accents and large singles fill themselves", taken, "m3")


def _body(est: Estimate) -> Iterator[Explanation]:
    fill, spread, sizing = est.rates.fill, c.FILL_SPREAD, c.INFLATION_SPREAD
    shared = (_fill(est), _envelope(est), _mean(est))
    yield Explanation(
        key="body",
        title="Base balloons that fill it",
        formula="up((φ × V − t) / v)",
        parts=(*shared, _taken(est, fill, 1.0)),
        value=est.count.body,
        unit="each",
        to_change=_BODY_CHANGE,
    )
    ends = (of_constant("f", "spread of the fill", spread), of_constant("i", "sizing", sizing))
    yield Explanation(
        key="count low",
        title="Fewest base balloons, looser and larger",
        formula="max(0, down(((φ − f) × V / (1 + i)³ − t) / v))",
        parts=(*shared, *ends, _taken(est, fill - spread.value, 1 + sizing.value)),
        value=est.count.low,
        unit="each",
        to_change="Size through a template: the range is mostly that of the diameters.",
    )
    yield Explanation(
        key="count high",
        title="Most base balloons, tighter and smaller",
        formula="up(((φ + f) × V / (1 − i)³ − t) / v)",
        parts=(*shared, *ends, _taken(est, fill + spread.value, 1 - sizing.value)),
        value=est.count.high,
        unit="each",
        to_change="Size through a template: the range is mostly that of the diameters.",
    )


def _clusters(est: Estimate) -> Iterator[Explanation]:
    make = est.make
    body = worked_out("N", "base before rounding", est.count.likely.base, "balloons", see="body")
    yield Explanation(
        key="clusters",
        title="Clusters",
        formula="up(N / e)",
        parts=(body, of_piece("e", "balloons in a cluster", make.cluster_of, "each")),
        value=make.cluster_count,
        unit="each",
        to_change="Fours in place of eights round up by less.",
    )
    for base, line in zip(est.spec.base, make.clusters, strict=True):
        share = base.share / sum(b.share for b in est.spec.base)
        exact = make.cluster_count * share
        yield Explanation(
            key=f"clusters {line.colour}",
            title=f"Clusters in {line.colour}",
            formula="C × s + r",
            parts=(
                worked_out("C", "clusters", make.cluster_count, "each", see="clusters"),
                of_piece("s", f"share of {line.colour}", share, "of the base"),
                rounding("r", line.count - exact),
            ),
            value=line.count,
            unit="each",
            to_change="Change the shares of the colours.",
        )


def _pairs(est: Estimate) -> Iterator[Explanation]:
    for name, count in est.make.pairs.items():
        parts = tuple(
            Term(
                symbol=f"p{i}",
                what=f"{name} pairs in {line.colour}",
                value=line.pairs.get(name, 0),
                unit="pairs",
                provenance="sizes of one colour paired as chance would, n (N − n) / N mixed",
            )
            for i, line in enumerate(est.make.clusters, start=1)
        )
        yield Explanation(
            key=f"pairs {name}",
            title=f"Pairs {name}",
            formula=" + ".join(part.symbol for part in parts),
            parts=parts,
            value=count,
            unit="pairs",
            to_change="Change the mix of sizes.",
        )


def _extras(est: Estimate) -> Iterator[Explanation]:
    spec, make = est.spec, est.make
    if spec.fillers:
        yield Explanation(
            key="minis",
            title="Mini-clusters",
            formula="up(m × A)",
            parts=(
                of_piece("m", "minis for each square metre", spec.fillers.minis_per_m2, "per m2"),
                worked_out("A", "face", est.face_area_m2, "m2", see="face area"),
            ),
            value=make.minis,
            unit="each",
            to_change="Ask for fewer or more of them for each square metre.",
        )
    if spec.singles:
        yield Explanation(
            key="singles",
            title="Large singles",
            formula="up(s × L)",
            parts=(
                of_piece("s", "singles for each metre", spec.singles.per_m, "per m"),
                worked_out("L", "length", est.path_length_m, "m", see="path length"),
            ),
            value=make.singles,
            unit="each",
            to_change="Ask for fewer or more of them for each metre.",
        )
    for accent, line in zip(spec.accents, make.bunch_lines, strict=True):
        yield Explanation(
            key=f"accent bunches {line.colour}",
            title=f"Accent bunches in {line.colour}",
            formula="up(s × φ × V / v / b)",
            parts=(
                of_piece("s", "share of the body", accent.share, "by count"),
                _fill(est),
                _envelope(est),
                _mean(est),
                of_piece("b", "balloons in a bunch", accent.bunch, "each"),
            ),
            value=line.count,
            unit="each",
            to_change="Change the accent's share or the size of a bunch.",
        )


def _need(est: Estimate, line: BalloonLine) -> Explanation:
    formula, parts = {
        "base": _need_base,
        "filler": _need_shared,
        "single": _need_shared,
        "accent": _need_bunched,
        "starburst": _need_bunched,
    }[line.use](est, line)
    return Explanation(
        key=f"need {line_key(line)}",
        title=f"Needed: {line_key(line)}",
        formula=formula,
        parts=parts,
        value=line.need,
        unit="each",
        to_change="It follows what is made of it: change colours, sizes or how many are asked for.",
    )


def _need_base(est: Estimate, line: BalloonLine) -> Formula:
    (clusters,) = (k.count for k in est.make.clusters if k.colour == line.colour)
    (size,) = (s.share for s in est.spec.sizes if s.nominal_in == line.nominal_in)
    share = size / sum(s.share for s in est.spec.sizes)
    each = est.make.cluster_of
    return "C × e × s + r", (
        worked_out("C", "clusters of it", clusters, "each", see=f"clusters {line.colour}"),
        of_piece("e", "balloons in a cluster", each, "each"),
        of_piece("s", "share of the size", share, "by count"),
        rounding("r", line.need - clusters * each * share),
    )


def _need_shared(est: Estimate, line: BalloonLine) -> Formula:
    """Minis and singles are shared evenly among their colours."""
    is_mini = line.use == "filler"
    lines = est.make.mini_lines if is_mini else est.make.single_lines
    count = est.make.minis if is_mini else est.make.singles
    (own,) = (one for one in lines if one.colour == line.colour)
    things = "minis" if is_mini else "singles"
    return "(M / k + r) × e", (
        worked_out("M", things, count, "each", see=things),
        of_piece("k", "colours that share them", len(lines), "each"),
        rounding("r", own.count - count / len(lines)),
        _size_of(own, "balloons in each"),
    )


def _size_of(line: BunchLine, what: str) -> Term:
    if line.size == c.MINI_SIZE.value:
        return of_constant("e", what, c.MINI_SIZE)
    return of_piece("e", what, line.size, "each")


def _need_bunched(est: Estimate, line: BalloonLine) -> Formula:
    is_accent = line.use == "accent"
    lines = est.make.bunch_lines if is_accent else est.make.burst_lines
    (own,) = (one for one in lines if one.colour == line.colour)
    if is_accent:
        things = worked_out("B", "bunches", own.count, "each", see=f"accent bunches {line.colour}")
        return "B × b", (things, of_piece("b", "balloons in a bunch", own.size, "each"))
    return "B × p", (
        of_piece("B", "starbursts asked for", own.count, "each"),
        of_constant("p", "points of one", c.STARBURST_POINTS),
    )


def _spares(est: Estimate, line: BalloonLine) -> Explanation:
    item = est.catalogue.item(line.kind, line.colour, line.nominal_in)
    rate = loss_rate(item, est.rates)
    loss = of_rates("p", "lost of them", rate, "of 1", usual_loss(item))
    if item.loss_rate is not None:
        loss = replace(loss, provenance=f"{CATALOGUE}: what its own bags lost so far")
    need = worked_out("n", "needed", line.need, "each", see=f"need {line_key(line)}")
    return Explanation(
        key=f"spares {line_key(line)}",
        title=f"Spares: {line_key(line)}",
        formula="enough(n, p, c) − n",
        parts=(need, loss, of_piece("c", "sure of enough", est.spec.confidence, "of 1")),
        value=line.spare,
        unit="each",
        to_change="Ask for less certainty, or note fewer losses of this bag's lot.",
    )
