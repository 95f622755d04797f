#!/usr/bin/python3
"""The script that one would write without this program: four checks on one description, with tomli and pint.

It is here to be measured against (ci/measure), not to be relied on: four checks, tolerances taken at their ends,
one block of each table (the values of rules/tables), no places, no working, no missing-value bookkeeping.
Usage: four_checks.py PACK.toml; needs Debian's python3-tomli and python3-pint. Exit code 1 if something fails,
2 if one of the four checks found nothing to check.
"""
import os
import re
import sys

import pint
import tomli

unit = pint.UnitRegistry()
Q = unit.Quantity

# Section in mm² to current in A: single cores clipped, 90 °C insulation (BS 7671 table 4E1A, method C).
CAPACITY = [(1.5, 25), (2.5, 34), (4, 46), (6, 59), (10, 81), (16, 109), (25, 143), (35, 176), (50, 228), (70, 293),
            (95, 355), (120, 413), (150, 476), (185, 545)]
BEND_MULTIPLE = 4  # inside radius over outer diameter, fixed laying (DIN VDE 0298-3)
HOLE = {"M4": 4.3, "M5": 5.3, "M6": 6.4, "M8": 8.4, "M10": 10.5, "M12": 13.0}  # mm, ISO 273 fine
DIAMETER = {"M4": 4, "M5": 5, "M6": 6, "M8": 8, "M10": 10, "M12": 12}  # mm, ISO 68-1
NUT_FACTOR = (0.148, 0.308)  # torque = K · diameter · force, where the description gives no K

NUMBER = r"([-+]?[0-9.]+(?:e[-+]?[0-9]+)?)"


def read(text):
    """(least, most) of a quantity's text, as pint quantities."""
    text = text.replace("·", "*").replace("²", "**2").replace("°C", "degC").replace("~", "").strip()
    found = re.fullmatch(NUMBER + r"\s*(?:±|\+-)\s*" + NUMBER + r"\s*(\S*)", text)
    if found:
        middle, half = float(found[1]), float(found[2])
        if found[3] == "%":
            raise ValueError(text)
        return Q(middle - half, found[3]), Q(middle + half, found[3])
    found = re.fullmatch(NUMBER + r"\s*(\S+)\s*±\s*" + NUMBER + r"\s*%", text)
    if found:
        value, share = Q(float(found[1]), found[2]), float(found[3]) / 100
        return value * (1 - share), value * (1 + share)
    found = re.fullmatch(NUMBER + r"\s*\.\.\s*" + NUMBER + r"\s*(\S*)", text)
    if found:
        return Q(float(found[1]), found[3]), Q(float(found[2]), found[3])
    found = re.fullmatch(NUMBER + r"\s*(\S*)", text)
    return Q(float(found[1]), found[2]), Q(float(found[1]), found[2])


def items(pack, kind):
    """Items of a kind by id; a table that holds fields and no items is the only one."""
    table = pack.get(kind, {})
    if table and not all(isinstance(value, dict) for value in table.values()):
        return {kind: table}
    return table


def stated(item, *fields):
    return all(field in item and item[field] not in ("?", "none") for field in fields)


def breaker_protects_conductor(pack):
    for name, conductor in items(pack, "conductor").items():
        if not stated(conductor, "section", "protected_by"):
            continue
        device = items(pack, "device").get(conductor["protected_by"].split(".")[0], {})
        if not stated(device, "rated_current"):
            continue
        section = read(conductor["section"])[0].to("mm**2").magnitude
        carries = max((current for size, current in CAPACITY if size <= section), default=0) * unit.ampere
        rated = read(device["rated_current"])[1]
        yield f"{conductor['protected_by']} protects {name}", rated <= carries, f"{rated:~} <= {carries:~}"


def bend_radius(pack):
    for name, conductor in items(pack, "conductor").items():
        if not stated(conductor, "bend_radius", "outer_diameter"):
            continue
        needs = BEND_MULTIPLE * read(conductor["outer_diameter"])[1]
        if stated(conductor, "least_bend_radius"):
            needs = read(conductor["least_bend_radius"])[1]
        has = read(conductor["bend_radius"])[0]
        yield f"bend of {name}", has >= needs, f"{has:~} >= {needs:~}"


def clamp_force(pack):
    fixture = pack.get("fixture", {})
    cells = list(items(pack, "cell").values())
    if not cells or not stated(cells[0], "clamp_force"):
        return
    lower, upper = read(cells[0]["clamp_force"])
    rows = fixture.get("rows_per_plate", 1)
    if stated(fixture, "springs", "spring_rate", "spring_compression"):
        rate, compression = read(fixture["spring_rate"]), read(fixture["spring_compression"])
        least, most = (fixture["springs"] * rate[i] * compression[i] / rows for i in (0, 1))
    elif stated(fixture, "bolts", "thread", "bolt_torque"):
        torque = read(fixture["bolt_torque"])
        factor = NUT_FACTOR
        if stated(fixture, "nut_factor"):
            factor = tuple(end.magnitude for end in read(fixture["nut_factor"]))
        diameter = DIAMETER[fixture["thread"]] * unit.millimetre
        least = fixture["bolts"] * torque[0] / (factor[1] * diameter) / rows
        most = fixture["bolts"] * torque[1] / (factor[0] * diameter) / rows
    else:
        return
    working = " ".join(f"{force.to('N'):.0f~}" for force in (least, most, lower, upper))
    yield "clamp force", least >= lower and most <= upper, "least, most, permitted: " + working


def lug_holes(pack):
    lugs = items(pack, "lug")
    for name, joint in items(pack, "joint").items():
        terminals = [items(pack, kind)[joint.get("on")] for kind in ("cell", "device", "bms", "load", "charger")
                     if joint.get("on") in items(pack, kind)]
        thread = joint.get("thread") or (terminals[0].get("terminal_thread") if terminals else None)
        for layer in joint.get("layers", []):
            if layer in lugs and stated(lugs[layer], "hole") and thread in HOLE:
                has = read(lugs[layer]["hole"])[0]
                needs = HOLE[thread] * unit.millimetre
                yield f"hole of {layer} at {name}", has >= needs, f"{has:~} >= {needs:~}"


def load(path):
    """The description with its parts files; `part` and `like` filled in."""
    with open(path, "rb") as file:
        pack = tomli.load(file)
    parts = {}
    for name in pack.pop("parts", []):
        with open(os.path.join(os.path.dirname(path), name), "rb") as file:
            for kind, table in tomli.load(file).items():
                parts.setdefault(kind, {}).update(table if isinstance(table, dict) else {})
    for kind, table in pack.items():
        for item in table.values() if isinstance(table, dict) else ():
            if not isinstance(item, dict):
                continue
            for key, source in (("part", parts), ("like", pack)):
                if key in item:
                    for field, value in source[kind][item[key]].items():
                        item.setdefault(field, value)
    for kind, table in parts.items():
        for name, item in table.items():
            pack.setdefault(kind, {}).setdefault(name, item)
    return pack


def main():
    pack = load(sys.argv[1])
    code = 0
    for check in (breaker_protects_conductor, bend_radius, clamp_force, lug_holes):
        results = list(check(pack))
        for what, holds, working in results:
            print(("conforms" if holds else "fails") + f": {what}: {working}")
        if not results:
            print(f"{check.__name__}: nothing to check", file=sys.stderr)
            code = 2
        elif code == 0 and not all(holds for _, holds, _ in results):
            code = 1
    return code


if __name__ == "__main__":
    sys.exit(main())
