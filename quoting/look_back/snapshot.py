"""What a closed look-back keeps, as plain JSON: what the business learns from later.

Version 1: `phases` in person-hours, `items` in balloons, `range` as it was stated when the job was
estimated (80 % of jobs), `money` in whole cents, `pieces` with what their body took.
"""

from collections.abc import Mapping
from typing import Any

from quoting.estimator import Estimate
from quoting.estimator.filling import mean_volume
from quoting.estimator.ranges import Spread
from quoting.look_back.comparing import Compared
from quoting.making.pieces import PieceToMake

VERSION = 1
COLD_BELOW_C = 5.0


def snapshot(compared: Compared, *, clusters_hung: Mapping[str, int]) -> dict[str, Any]:
    planned = compared.planned
    stated = planned.honest_range()
    sites = [piece.spec.site for piece in planned.pieces]
    return {
        "version": VERSION,
        "outdoor": any(site.outdoor for site in sites),
        "cold": any(site.hung_at_c < COLD_BELOW_C or site.rain for site in sites),
        "phases": [
            {"phase": row.phase, "planned": row.planned, "real": row.real}
            for row in compared.phases
        ],
        "items": [
            {
                "item": row.item.pk,
                "name": str(row.item),
                "kind": row.item.kind,
                "nominal_in": row.item.nominal_in,
                "need": row.planned.need,
                "spare": row.planned.spare,
                "used": row.used,
                "lost": row.lost,
            }
            for row in compared.items
        ],
        "pieces": [_piece(piece, clusters_hung) for piece in planned.plan.pieces],
        "unit_times": dict(vars(planned.rates.unit_times)),
        "range": {
            "person_hours": _ends(stated.person_hours),
            "cost_cents": _ends(stated.cost_cents),
        },
        "money": {
            "net_cents": compared.net_cents,
            "planned_cents": compared.planned_cents,
            "real_cents": compared.real_cents,
            "planned_margin_bp": compared.planned_margin_bp,
            "real_margin_bp": compared.real_margin_bp,
        },
        "is_all_timed": compared.is_all_timed,
    }


def _piece(piece: PieceToMake, clusters_hung: Mapping[str, int]) -> dict[str, Any]:
    """`clusters_hung` None: nobody said that they were more or fewer than planned."""
    made: Estimate = piece.estimate
    return {
        "piece": piece.pk,
        "title": piece.title,
        "mean_width_m": made.face_area_m2 / made.path_length_m,
        "envelope_m3": made.envelope_m3,
        "fill": made.rates.fill,
        "body": made.count.likely.base,
        "balloon_m3": mean_volume(made.spec),
        "cluster_of": made.make.cluster_of,
        "clusters": made.make.cluster_count,
        "clusters_hung": clusters_hung.get(str(piece.pk)),
    }


def _ends(spread: Spread) -> list[float]:
    return [spread.low, spread.likely, spread.high]
