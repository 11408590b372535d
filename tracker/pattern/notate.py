"""A plan written in the trade's shorthand: the canonical text of a round.

What is written is read back by the reader to the same numbers: moves, bases used, stitches by kind, chain spaces.
Names of groups ("shell") are written out as what they make, since their definition stands elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tracker.notation.glossary import BUNCH_BY_ID, abbreviation
from tracker.pattern.plan import Act, Into, Loop, Made, Node, Plan, Repeat, Role, Run


def notate(plan: Plan, terms: str = "US") -> str:
    """The instructions of the round, without heading and total: "(2 sc, inc) x 6"."""
    return notate_body(plan.body, terms, plan.ends_with)


def notate_body(body: tuple[Node, ...], terms: str = "US", ends_with: str = "") -> str:
    """The same for a part of a round. `ends_with` is the colour that the yarn has when it is done."""
    writer = _Writer(terms, _kinds(body) <= {"sc"})
    parts = list(writer.nodes(body))
    if ends_with and ends_with != writer.colour:
        parts.append(f"change to {ends_with}")
    return ", ".join(parts)


class _Writer:
    """Writes node after node; remembers the colour in use, which is written only where it changes."""

    def __init__(self, terms: str, only_sc: bool) -> None:
        self._terms = terms
        self._only_sc = only_sc
        self.colour = ""

    def nodes(self, body: tuple[Node, ...]) -> Iterator[str]:
        if opening := _foundation(body, self._terms):
            yield opening
            body = body[3:]
        for node in body:
            yield self._run(node) if isinstance(node, Run) else self._repeat(node)

    def _repeat(self, repeat: Repeat) -> str:
        if repeat.times == 1:
            return ", ".join(self.nodes(repeat.body))
        if len(_colours(repeat.body)) > 1:
            self.colour = ""
        inside = ", ".join(self.nodes(repeat.body))
        brackets = "[]" if inside.startswith("(") or inside.endswith(")") else "()"
        return f"{brackets[0]}{inside}{brackets[1]} x {repeat.times}"

    def _run(self, run: Run) -> str:
        colour = ""
        if run.act.colour and run.act.colour != self.colour:
            self.colour = run.act.colour
            colour = f"({self.colour}) "
        if run.act.role is Role.WORK:
            return colour + _work(run.act, run.times, self._terms, self._only_sc)
        return colour + _WRITERS[run.act.role](run.act, run.times, self._terms)


def _foundation(body: tuple[Node, ...], terms: str) -> str:
    """A row begun on a chain whose last chains count as its first stitch; "" for any other beginning."""
    acts = [node.act for node in body[:3] if isinstance(node, Run) and node.times == 1]
    if len(acts) < 3 or not acts[0].name.startswith("ch ") or acts[1].role is not Role.CHAIN:
        return ""
    skipped, first = acts[1].makes[0], acts[2]
    if not skipped.counts_as or first.into is not Into.CHAIN:
        return ""
    counts = f"(skipped chs count as {abbreviation(skipped.counts_as, terms)})"
    nth = {2: "3rd", 3: "4th", 4: "5th", 5: "6th"}.get(skipped.count, f"{skipped.count + 1}th")
    return f"{acts[0].name}, {_made(first.makes[0], terms)} in {nth} ch from hook {counts}"


def _colours(body: tuple[Node, ...]) -> set[str]:
    return {act.colour for act in Plan(body).acts() if act.colour}


def _kinds(body: tuple[Node, ...]) -> set[str]:
    return {made.kind for act in Plan(body).acts() if act.role is Role.WORK for made in act.makes}


def _work(act: Act, times: int, terms: str, only_sc: bool) -> str:
    """Stitches. "inc" and "dec" alone are two single crochets only where the round holds nothing else."""
    if act.name in BUNCH_BY_ID and len(act.makes) == 1 and act.makes[0].kind == act.name:
        return _loop(act.loop, f"{times} {act.name}" if times > 1 else act.name)
    if len(act.makes) != 1:
        return _in_one_place(act, times, terms)
    made = act.makes[0]
    stitch = _posted(abbreviation(made.kind, terms), act.loop)
    if act.takes > 1 and made.count == 1:
        return _loop(act.loop, _times(_together(act, stitch, only_sc), times))
    if act.into is Into.STITCH and act.takes == 1:
        if made.count == 1:
            return _loop(act.loop, f"{times} {stitch}")
        if made.count == 2:
            return _loop(act.loop, _times("inc" if only_sc else f"{stitch} inc", times))
    return _several(act, made.count, stitch, times)


def _together(act: Act, stitch: str, only_sc: bool) -> str:
    """ "dec" where the pattern says so and it can only be two single crochets; else how many of which stitch."""
    plain = act.takes == 2 and only_sc and not act.name.endswith("tog")
    return "dec" if plain else f"{stitch}{act.takes}tog"


def _times(word: str, times: int) -> str:
    """The count stands before the word: behind it, "x 3" might be taken for the whole line."""
    return word if times == 1 else f"{times} {word}"


def _several(act: Act, count: int, stitch: str, times: int) -> str:
    """Stitches into a named place: "3 sc in next st", "2 sc in each of next 4 ch-sps", "6 sc in magic ring"."""
    if not act.takes:
        return f"{count * times} {stitch} {_NOWHERE_ELSE.get(act.into, 'in same st')}"
    one, many = _PLACES.get(act.into, _PLACES[Into.STITCH])
    if act.into is Into.BETWEEN:
        return f"{count} {stitch} between next {times} sts"
    if times == 1:
        return f"{count} {stitch} in next {one}"
    return f"{count} {stitch} in each of next {times} {many}"


_PLACES = {
    Into.STITCH: ("st", "sts"),
    Into.SPACE: ("ch-sp", "ch-sps"),
    Into.CHAIN: ("ch", "ch"),
}
_NOWHERE_ELSE = {Into.RING: "in magic ring", Into.SAME: "in same st"}


def _in_one_place(act: Act, times: int, terms: str) -> str:
    inside = ", ".join(_made(made, terms) for made in act.makes)
    place = _NOWHERE_ELSE.get(act.into, "in next " + _PLACES.get(act.into, _PLACES[Into.STITCH])[0])
    if act.takes > 1:
        place = f"over next {act.takes} sts"
    text = f"({inside}) {place}"
    return text if times == 1 else f"[{text}] x {times}"


def _made(made: Made, terms: str) -> str:
    if made.is_chain:
        return f"ch {made.count}"
    return f"{made.count} {abbreviation(made.kind, terms)}"


_POSTS = {Loop.FRONT_POST: "FP", Loop.BACK_POST: "BP"}


def _posted(stitch: str, loop: Loop) -> str:
    return _POSTS.get(loop, "") + stitch


def _loop(loop: Loop, text: str) -> str:
    """The loop stands behind what is worked in it: "10 sc in BLO"."""
    return f"{text} in {loop.value}" if loop in (Loop.BACK, Loop.FRONT) else text


def _chain(act: Act, times: int, terms: str) -> str:
    made = act.makes[0] if act.makes else Made("ch")
    text = f"ch {made.count}"
    if made.counts_as:
        text += f" (counts as {abbreviation(made.counts_as, terms)})"
    return text if times == 1 else f"({text}) x {times}"


def _skip(act: Act, times: int, terms: str) -> str:
    word = "miss" if terms == "UK" else "sk"
    if act.remark == "first" and times == 1:
        return f"{word} first st"
    return f"{word} {act.takes * times}{' ch-sps' if act.into is Into.SPACE else ''}"


def _step(act: Act, times: int, terms: str) -> str:
    name = act.name
    if name.startswith("ch ") and name != "ch 1":
        name += " (does not count)"
    return ", ".join([name] * min(times, 3))


_WRITERS: dict[Role, Callable[[Act, int, str], str]] = {
    Role.CHAIN: _chain,
    Role.SKIP: _skip,
    Role.STEP: _step,
}
