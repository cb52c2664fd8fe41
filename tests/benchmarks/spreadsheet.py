"""The same estimate by a spreadsheet, as an owner might keep one: both whole processes, timed.

A flat OpenDocument sheet with every formula of one arch, in plain cells, is recalculated by
LibreOffice without a window. Its total must come out the same, or the two did not do the
same work. Two colours and two sizes, as for two shares plain rounding is Webster's method.
"""

import csv
import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.sax.saxutils import quoteattr

from quoting.estimator import constants as c
from quoting.estimator import example_catalogue, example_rates
from tests.quoting.estimator.garlands import garland

from .timing import milliseconds

_RUNS = 5
_ROOT = Path(__file__).resolve().parents[2]
_SPARES_TRIED = 30
_SECONDS_ALLOWED = 120


def figures() -> Iterator[str]:
    office = shutil.which("soffice")
    if office is None:
        yield "not run: LibreOffice Calc is not installed (Debian: libreoffice-calc)"
        return
    with TemporaryDirectory() as folder:
        yield from _compared(office, Path(folder))


def _compared(office: str, folder: Path) -> Iterator[str]:
    spec, sheet = folder / "spec.json", folder / "sheet.fods"
    spec.write_text(json.dumps(garland()))
    sheet.write_text(_sheet(), encoding="utf-8")
    profile = (folder / "profile").as_uri()
    by_sheet = [office, f"-env:UserInstallation={profile}", "--headless", "--convert-to", "csv"]
    by_sheet += ["--outdir", str(folder), str(sheet)]
    by_us = [sys.executable, str(_ROOT / "manage.py"), "estimate", str(spec)]

    ours = json.loads(_run(by_us))["price"]["total"]
    _run(by_sheet)
    theirs = _total(folder / "sheet.csv")
    yield f"total with tax: the sheet {theirs}, ours {ours}"
    if theirs != ours:
        yield "they differ, so their times say nothing"
        return
    sheet_best, sheet_middle = milliseconds(lambda: _run(by_sheet), runs=_RUNS)
    our_best, our_middle = milliseconds(lambda: _run(by_us), runs=_RUNS)
    yield f"a sheet recalculated: {sheet_middle:.0f} ms (best {sheet_best:.0f}), process and all"
    yield f"manage.py estimate: {our_middle:.0f} ms (best {our_best:.0f}), process and all"
    yield f"ratio: the sheet takes {sheet_middle / our_middle:.1f} times as long"


def _run(command: list[str]) -> str:
    return subprocess.run(
        command, check=True, capture_output=True, text=True, timeout=_SECONDS_ALLOWED
    ).stdout


def _total(path: Path) -> str:
    with path.open(newline="", encoding="utf-8") as file:
        rows = {row[0]: row[1] for row in csv.reader(file)}
    return f"{float(rows['total']):.2f}"


# --- the sheet: names and formulas, in LibreOffice's own grammar; `{name}` is another cell


def _sheet() -> str:
    rows = [*_sizes(), *_recipe(), *_orders(), *_work(), *_price()]
    at = {name: f"[.B{i}]" for i, (name, _) in enumerate(rows, start=1)}
    return _HEAD + "".join(_row(name, formula.format(**at)) for name, formula in rows) + _TAIL


def _row(name: str, formula: str) -> str:
    label = (
        f'<table:table-cell office:value-type="string"><text:p>{name}</text:p></table:table-cell>'
    )
    cell = f"<table:table-cell table:formula={quoteattr(f'of:={formula}')}/>"
    return f"<table:table-row>{label}{cell}</table:table-row>"


_Rows = Iterator[tuple[str, str]]


def _sizes() -> _Rows:
    spec = garland()
    path, widths = spec["path"], [width for _, width in spec["width"]]
    yield "a", f"{path['width_m']}/2"
    yield "b", f"{path['height_m']}"
    yield "h", "3*(({a}-{b})/({a}+{b}))^2"
    yield "length", "PI()/2*({a}+{b})*(1+{h}/(10+SQRT(4-{h})))"
    for i, width in enumerate(widths):
        yield f"w{i}", f"{width}"
    yield "face", "{length}*(({w0}+{w1})/2+({w1}+{w2})/2)/2"
    squares = "({w0}^2+{w0}*{w1}+{w1}^2)/3+({w1}^2+{w1}*{w2}+{w2}^2)/3"
    yield "room", f"PI()/4*{{length}}*({squares})/2"
    for name, (low, high) in _INFLATED.items():
        a, b = f"({low}*0.0254)", f"({high}*0.0254)"
        yield f"v_{name}", f"PI()/6*({a}+{b})*({a}^2+{b}^2)/4"


_INFLATED = {"11": (6, 10), "17": (12, 15), "5": (3.5, 4.5), "24": (18, 22), "accent": (6, 9)}


def _recipe() -> _Rows:
    yield "v_mean", "0.75*{v_11}+0.25*{v_17}"
    yield "whole", f"{example_rates().fill}*{{room}}/{{v_mean}}"
    yield "taken", "0.08*{whole}*{v_accent}+0.6*{length}*{v_24}"
    yield "base", "{whole}-{taken}/{v_mean}"
    yield "clusters", "ROUNDUP({base}/8;0)"
    yield "oat", "ROUND({clusters}*0.6;0)"
    yield "fern", "{clusters}-{oat}"
    for colour in ("oat", "fern"):
        yield f"{colour}_11", f"ROUND({{{colour}}}*8*0.75;0)"
        yield f"{colour}_17", f"{{{colour}}}*8-{{{colour}_11}}"
    yield "bunches", "ROUNDUP(0.08*{whole}/4;0)"
    yield "accents", "4*{bunches}"
    yield "minis", "ROUNDUP(1.25*{face};0)"
    yield "fillers", "12*{minis}"
    yield "singles", "ROUNDUP(0.6*{length};0)"
    yield "bursts", "3"
    yield "points", "12*{bursts}"
    yield "anchors", f"ROUNDUP({{length}}/{c.ANCHOR_SPACING_OUTDOORS_M.value};0)+1+2"
    latex = "({oat_11}+{fern_11})*{v_11}+({oat_17}+{fern_17})*{v_17}+{fillers}*{v_5}"
    foil = f"{{points}}*{c.FOIL_POINT_M3.value}"
    yield "travels", f"({latex}+{{accents}}*{{v_accent}}+{foil})/{c.LOOSE_PACKING.value}"
    yield "bags", f"ROUNDUP({{travels}}/{example_rates().packing_bag_m3};0)"


_LOSSES = {
    "oat_11": c.LOSS_LATEX,
    "oat_17": c.LOSS_LATEX,
    "fern_11": c.LOSS_LATEX,
    "fern_17": c.LOSS_LATEX,
    "accents": c.LOSS_LATEX,
    "fillers": c.LOSS_LATEX,
    "singles": c.LOSS_LARGE,
    "points": c.LOSS_FOIL,
}


def _orders() -> _Rows:
    """How many to order: spares are tried one by one, as a sheet has no inverse of it."""
    for name, loss in _LOSSES.items():
        for spare in range(_SPARES_TRIED):
            need = f"{{{name}}}"
            enough = f"1-BINOMDIST({need}-1;{need}+{spare};{1 - loss.value};TRUE())>=0.95"
            yield f"{name}_{spare}", f"IF({enough};{need}+{spare};1000000)"
        tried = ";".join(f"{{{name}_{spare}}}" for spare in range(_SPARES_TRIED))
        yield f"order_{name}", f"MIN({tried})"


def _work() -> _Rows:
    t = example_rates().unit_times
    elevens, seventeens = "({oat_11}+{fern_11}+{accents})", "({oat_17}+{fern_17})"
    inflating = f"{elevens}*{t.inflate_11_s}+{seventeens}*{t.inflate_17_s}"
    yield "h_inflate", f"({inflating}+{{fillers}}*{t.inflate_5_s})/3600"
    yield "h_twist", f"{{clusters}}*{t.twist_eight_s}/3600"
    yield "h_minis", f"{{minis}}*{t.mini_s}/3600"
    yield "h_bursts", f"{{bursts}}*{t.starburst_s}/3600"
    yield "h_pack", f"{{clusters}}*{t.pack_cluster_s}/3600"
    yield "fixings", "{bunches}+{minis}+2*{bursts}"
    joining = f"{{clusters}}*{t.join_cluster_s}+({{fixings}}+{{singles}})*{t.attach_s}"
    hanging = f"{joining}+{{anchors}}*{t.anchor_s}+{{singles}}*{t.inflate_24_s}"
    slower = f"{t.ladder_factor}*{t.cold_or_rain_factor}"
    yield "h_hang", f"({hanging})*{slower}/3600"
    yield "h_check", f"{{h_hang}}*{t.check_share}"
    yield "h_load", f"({t.load_s}+{t.unload_s})/3600"
    yield "h_drive", "2*25/60"


_HOURS = ("inflate", "twist", "minis", "bursts", "pack", "hang", "check", "load", "drive")


def _price() -> _Rows:
    rates, catalogue = example_rates(), example_catalogue()
    bought = {
        "oat_11": ("latex", "oat", 11.0),
        "oat_17": ("latex", "oat", 17.0),
        "fern_11": ("latex", "fern", 11.0),
        "fern_17": ("latex", "fern", 17.0),
        "accents": ("latex", "marigold", 11.0),
        "fillers": ("latex", "oat", 5.0),
        "singles": ("latex", "oat", 24.0),
        "points": ("foil", "copper", None),
    }
    for name, key in bought.items():
        item = catalogue.item(*key)
        yield f"c_{name}", f"ROUND({{order_{name}}}*{item.bag_cents}/{item.bag_count};0)"
    yield "c_band", f"ROUND({{fixings}}*{catalogue.sundry_cents('rubber band')};0)"
    ribbon = f"ROUNDUP({{anchors}}*{c.TIE_M.value}*10;0)/10"
    yield "c_ribbon", f"ROUND({ribbon}*{catalogue.sundry_cents('curling ribbon')};0)"
    yield "c_bags", f"ROUND({{bags}}*{catalogue.sundry_cents('packing bag')};0)"
    yield "c_kit", f"{rates.kit_wear_cents}"
    for name in _HOURS:
        yield f"c_h_{name}", f"ROUND({{h_{name}}}*{rates.labour_cents_per_hour};0)"
    yield "c_travel", f"ROUND(2*18*{rates.travel_cents_per_km};0)"
    lines = [*(f"c_{name}" for name in bought), "c_band", "c_ribbon", "c_bags", "c_kit"]
    lines += [*(f"c_h_{name}" for name in _HOURS), "c_travel"]
    yield "direct", "+".join(f"{{{name}}}" for name in lines)
    yield "cost", f"{{direct}}+ROUND({{direct}}*{rates.overhead_bp / 10_000};0)"
    margin = f"ROUND({{cost}}/(1-{rates.margin_bp / 10_000});0)"
    yield "priced", f"MAX({margin};{rates.minimum_cents})"
    step = rates.rounding_cents
    yield "net", f"ROUNDUP({{priced}}/{step};0)*{step}"
    yield "total", f"({{net}}+ROUND({{net}}*{rates.tax_bp / 10_000};0))/100"


_OASIS = "urn:oasis:names:tc:opendocument:xmlns"
_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>'
    f'<office:document xmlns:office="{_OASIS}:office:1.0" xmlns:table="{_OASIS}:table:1.0" '
    f'xmlns:text="{_OASIS}:text:1.0" xmlns:of="{_OASIS}:of:1.2" office:version="1.2" '
    'office:mimetype="application/vnd.oasis.opendocument.spreadsheet">'
    '<office:body><office:spreadsheet><table:table table:name="estimate">'
)
_TAIL = "</table:table></office:spreadsheet></office:body></office:document>"
