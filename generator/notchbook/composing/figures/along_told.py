"""What an along figure says in words: at its lines, in its key, below it and for those who can't
see it."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.figures.along_plan import AlongPlan
from notchbook.composing.figures.along_thing import Thing
from notchbook.composing.figures.close_up import CloseUp, neighbour, reference, slit_of
from notchbook.composing.names import plain
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting


def named(plan: AlongPlan, setting: Setting) -> list[tuple[float, str]]:
    """Words for every line of a close-up, each with how far inside the stitching line it is, mm."""
    if plan.turned:
        found = [(0.0, setting.say("along.edge"))]
    else:
        found = [(0.0, setting.say("along.line"))]
        if plan.outside:
            found.append((-plan.outside, setting.say("along.raw")))
    for rows in plan.rows:
        found += [(mm, _row(rows.kind, mm, plan, setting)) for mm in rows.inside]
    if thing := plan.thing:
        deep = min(thing.long, 20.0) if thing.at else thing.inside + thing.width / 2
        found.append((deep, thing.title))
    return found


def signs(plan: AlongPlan, setting: Setting) -> list[tuple[str, str]]:
    """Which side of the cloth is up, and what other signs mean."""
    cloth = setting.say(f"layers.{plan.side}", cloth=plain(plan.line.cloth))
    found = [(f"{plan.side}-side", f"{plan.line.piece.title}, {cloth}")]
    if plan.thing and not plan.thing.zigzag:
        found.append(("either-side", plan.thing.title))
    held = plan.thing and plan.thing.at and plan.outside and not plan.thing.folded
    if held or any(rows.kind != "tack" for rows in plan.rows):
        found.append(("seam", setting.say("layers.key.stitch")))
    return found


def told(plan: AlongPlan, setting: Setting, *, rows: bool) -> list[str]:
    """Sentences of the figure; about ``rows`` only where no close-up has their words."""
    said = _facts(plan, setting, rows=rows)
    if plan.line.goes_round and not plan.line.path.closed:
        said.append(setting.say("along.flat"))
    if setting.left_handed and plan.rows and not plan.middle:
        said.append(setting.say("stitch.left"))
    return said


def described(plan: AlongPlan, view: CloseUp | None, setting: Setting) -> str:
    """The figure in words."""
    line = plan.line
    side = setting.say(f"layers.{plan.side}", cloth=plain(line.cloth))
    said = [setting.say("along.alt", piece=line.piece.title, edge=plain(line.name), side=side)]
    if view:
        said.append(setting.say("along.alt.large"))
    return " ".join([*said, *_facts(plan, setting)])


def _facts(plan: AlongPlan, setting: Setting, *, rows: bool = True) -> list[str]:
    """What is sewn and laid; ``rows`` only where no close-up has their words."""
    said: list[str] = []
    many = sum(len(each.inside) for each in plan.rows) > 2
    count = 0
    for each in plan.rows if rows else ():
        for mm in each.inside:
            count += 1
            words = _capital(_row(each.kind, mm, plan, setting))
            said.append(f"{count}: {words}." if many else f"{words}.")
    if plan.middle and plan.rows:
        said.append(setting.say("along.middle"))
    if plan.thing:
        said += _thing(plan, plan.thing, setting, measured=not rows)
    if plan.slit is not None:
        piece = f"{plan.line.piece.title}, {plain(plan.line.cloth)}"
        said.append(setting.say("along.slit.told", piece=piece))
    return said


def _thing(plan: AlongPlan, thing: Thing, setting: Setting, *, measured: bool) -> list[str]:
    """Sentences about what is laid; ``measured``: a close-up has the length of its lap."""

    def length(mm: float) -> str:
        return both(numbers.length(mm), setting)

    (start, *_), (*_, end) = thing.parts[0], thing.parts[-1]
    long = length(end - start)
    if thing.at:
        words = {"thing": _capital(thing.title), "length": length(thing.long)}
        how = "folded" if thing.folded else "across"
        return [setting.say(f"along.told.{how}", **words), *_off(plan, thing, setting)]
    if thing.zigzag:
        apart = length((thing.end - thing.start) / thing.zigzag / 2)
        words = {"thing": _capital(thing.title), "length": apart}
        return [setting.say_count("along.told.zigzag", thing.zigzag, **words)]
    ends = "edge" if plan.turned else "line"
    if thing.inside < -0.05 and thing.far > 0.05:
        values = {"out": length(-thing.inside), "inside": length(thing.far)}
        where = setting.say(f"along.over.{ends}", **values)
    else:
        near, key = thing.inside, "inside"
        if near < -0.05:
            near, key = -thing.far, "outside"
        key = "on" if abs(near) < 0.05 else key
        where = setting.say(f"along.{key}.{ends}", distance=length(near))
    if thing.free:
        words = {"thing": _capital(thing.title), "where": where, "length": long}
        return [setting.say("along.told.free", **words), *_off(plan, thing, setting)]
    whole = "whole" if thing.whole else "part"
    said = [
        setting.say(f"along.told.{whole}", thing=_capital(thing.title), where=where, length=long)
    ]
    if thing.pieces:
        words = {"length": length(thing.pieces), "apart": length(thing.apart)}
        said.append(setting.say("along.pieces", count=len(thing.parts), **words))
    if thing.lap and not measured:
        said.append(setting.say("along.lap", lap=length(thing.lap)))
    if thing.under:
        said.append(setting.say("along.under", under=length(thing.under)))
    if thing.tails:
        said.append(setting.say("along.tails", tails=length(thing.tails)))
        if slit_of(plan):
            said.append(setting.say("along.tails.slit"))
    if thing.sleeve:
        key = "along.sleeve.tails" if thing.tails else "along.sleeve"
        said.append(setting.say(key, sleeve=thing.sleeve))
    return said


def _off(plan: AlongPlan, thing: Thing, setting: Setting) -> list[str]:
    """How far its first end, or what is square to the edge, is from a mark or the edge's end."""
    place, number, own = reference(plan)
    off = abs(place - thing.start)
    if off < 0.5 or (number is None and not own):
        return []
    words = {"off": both(numbers.length(off), setting)}
    if not own:
        return [setting.say("along.off.mark", number=f"{number}", **words)]
    return [
        setting.say("along.off.edge", edge=plain(neighbour(plan.line, place > 1).name), **words)
    ]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _row(kind: str, mm: float, plan: AlongPlan, setting: Setting) -> str:
    """``stay-stitching, 1 mm outside the stitching line``."""
    row = setting.say(f"along.row.{kind}")
    if abs(mm) < 0.05:
        return setting.say("along.row.on", row=row)
    way = "edge" if plan.turned else "inside" if mm > 0 else "outside"
    return setting.say(f"along.row.{way}", row=row, distance=both(numbers.length(abs(mm)), setting))
