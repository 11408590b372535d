"""Where a maker is who lost the place: what the last whole round looks like, asked in two or three questions.

Each question is the one that leaves the fewest rounds to choose from, whatever the answer. What cannot be told is
passed over. Of what is left in the end the two rounds nearest to the place that was kept are offered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from enum import Enum

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Pattern, Round, Start
from tracker.phrasing.stitches import names_for
from tracker.rounds.plan import Into, Loop, Role
from tracker.session.colour_changes import colour_in_use, colours_named
from tracker.session.events import Frog
from tracker.session.state import Copy, Place, Refused, State, rounds_of
from tracker.session.typed_input import number_in
from tracker.session.worked_rounds import round_at

LEAST_QUESTIONS, MOST_QUESTIONS = 2, 3
"""Two, where they tell two places apart; more than three would be slower than to count the rounds."""

MOST_OFFERED = 2

NEAR = 2
"""By so much a careful maker may miscount; a number further off is taken for a slip of the keyboard."""


class Clue(Enum):
    """What is asked of the last whole round. The first ones need a look, the later ones counting."""

    LOOK = "what do you see in it?"
    COLOUR = "which colour is in it?"
    KIND = "what are its stitches?"
    STITCHES = "how many stitches does it have?"
    ALIKE = "how many just like it lie on each other, itself counted?"

    @property
    def is_number(self) -> bool:
        return self in (Clue.STITCHES, Clue.ALIKE)


class FabricLook(Enum):
    """What can be seen in a round without counting."""

    WIDER = "wider: two or more stitches in one"
    NARROWER = "narrower: two or more drawn into one"
    RIDGE = "a ridge of free loops below it"
    POSTS = "stitches around the posts below"
    HOLES = "chains or holes in it"
    PLAIN = "plain: one stitch on each"


@dataclass(frozen=True, slots=True)
class RoundLook:
    """A round as it looks when it is the last whole one: by each clue the answers that fit, none where nothing is
    known of it, and so nothing rules it out."""

    index: int
    label: str
    by_clue: tuple[tuple[Clue, frozenset[str]], ...]

    def answers(self, clue: Clue) -> frozenset[str]:
        return dict(self.by_clue)[clue]

    def fits(self, clue: Clue, answer: str) -> bool:
        answers = self.answers(clue)
        return not answers or answer in answers


@dataclass(frozen=True, slots=True)
class PlaceQuestion:
    """What is asked, and the answers to choose from; a number is typed where there are none."""

    clue: Clue
    words: str
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Search:
    """The rounds that fit all that was said so far, what was asked, and where the place was kept."""

    copy: Copy
    kept: Place
    rounds: tuple[RoundLook, ...]
    clues: tuple[Clue, ...] = ()
    nearest: str = ""
    """That no round has the number that was told, and what the nearest have; "" where one has."""


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """A place to choose: `words` tell it, `event` sets it; None where it is the one that was kept."""

    words: str
    event: Frog | None


def begin_search(pattern: Pattern, state: State) -> Search:
    """All rounds of the copy in hand, nothing asked yet."""
    copy = state.work.in_hand
    return Search(copy, state.work.place_in(copy), tuple(_round_looks(pattern, state, copy)))


def _round_looks(pattern: Pattern, state: State, copy: Copy) -> Iterator[RoundLook]:
    last: tuple[object, ...] | None = None
    alike = 0
    for index in range(rounds_of(pattern, copy)):
        item = round_at(pattern, state.work, copy.piece, copy.number, index)
        colours = colours_named(item) | {colour_in_use(pattern, state, copy, Place(index))} - {""}
        clues = {
            Clue.LOOK: frozenset(look.value for look in _looks(item)),
            Clue.COLOUR: frozenset(pattern.yarn_name(key) for key in colours),
            Clue.KIND: _kinds(item, pattern.terms),
            Clue.STITCHES: frozenset() if item.leaves is None else frozenset((str(item.leaves),)),
        }
        same = tuple(clues.values())
        alike, last = (alike + 1 if same == last else 1), same
        yield RoundLook(index, item.label, (*clues.items(), (Clue.ALIKE, frozenset((str(alike),)))))


def _looks(item: Round) -> set[FabricLook]:
    if item.plan is None:
        return set()
    works = [act for act in item.plan.acts() if act.role is Role.WORK]
    looks = {
        FabricLook.WIDER: any(act.is_increase and act.into is Into.STITCH for act in works),
        FabricLook.NARROWER: any(act.is_decrease for act in works),
        FabricLook.RIDGE: any(act.loop in (Loop.BACK, Loop.FRONT) for act in works),
        FabricLook.POSTS: any(act.loop in (Loop.BACK_POST, Loop.FRONT_POST) for act in works),
        FabricLook.HOLES: item.plan.tally.spaces > 0,
    }
    return {look for look, is_so in looks.items() if is_so} or {FabricLook.PLAIN}


def _kinds(item: Round, terms: str) -> frozenset[str]:
    names = names_for(terms)
    kinds = item.plan.tally.kinds if item.plan else ()
    return frozenset(names.get(kind, kind) for kind, count in kinds if count)


def question_of(pattern: Pattern, search: Search) -> PlaceQuestion | None:
    """The question that leaves the fewest rounds at the worst answer; None where no answer would tell them apart,
    where they are few enough to choose from, or where enough was asked."""
    few_enough = MOST_OFFERED if len(search.clues) >= LEAST_QUESTIONS else 1
    if len(search.rounds) <= few_enough or len(search.clues) >= MOST_QUESTIONS:
        return None
    rounds_at_worst = {clue: _left_at_worst(search.rounds, clue) for clue in Clue if clue not in search.clues}
    clue = min(rounds_at_worst, key=lambda each: rounds_at_worst[each], default=None)
    if clue is None or rounds_at_worst[clue] >= len(search.rounds):
        return None
    is_flat = search.copy.piece < len(pattern.pieces) and pattern.pieces[search.copy.piece].start is Start.ROWS
    last = f"the last whole {'row' if is_flat else 'round'}: {clue.value}"
    if clue.is_number:
        return PlaceQuestion(clue, last)
    answers = dict.fromkeys(answer for each in search.rounds for answer in sorted(each.answers(clue)))
    ordered = (look.value for look in FabricLook if look.value in answers) if clue is Clue.LOOK else answers
    return PlaceQuestion(clue, last, tuple(ordered))


def _left_at_worst(rounds: tuple[RoundLook, ...], clue: Clue) -> int:
    answers = Counter(answer for each in rounds for answer in each.answers(clue))
    unknown = sum(not each.answers(clue) for each in rounds)
    return max(answers.values(), default=0) + unknown


def narrowed(search: Search, question: PlaceQuestion, answer: str) -> Search:
    """The search after an answer, "" for one that cannot be told. Raises Refused where no round fits."""
    clues = (*search.clues, question.clue)
    if not answer:
        return replace(search, clues=clues, nearest="")
    if not question.clue.is_number:
        rounds = tuple(each for each in search.rounds if each.fits(question.clue, answer))
        if not rounds:
            raise Refused("no round that is left looks like that")
        return replace(search, clues=clues, rounds=rounds, nearest="")
    number = number_in(answer)
    off = {each.index: _off(each, question.clue, number) for each in search.rounds}
    least = min(off.values())
    if least > NEAR:
        raise Refused(f"no round that is left comes to {number:,}: count again, or pass it over")
    rounds = tuple(each for each in search.rounds if off[each.index] in (0, least))
    return replace(
        search, clues=clues, rounds=rounds, nearest=f"none has {number:,}: these are nearest" if least else ""
    )


def _off(look: RoundLook, clue: Clue, number: int) -> int:
    return min((abs(int(answer) - number) for answer in look.answers(clue)), default=0)


def places_left(pattern: Pattern, state: State, search: Search) -> tuple[Whereabouts, ...]:
    """At most two places to choose from, the nearest to the one that was kept first."""
    old_place, places = search.kept, []
    nearest = sorted(search.rounds, key=lambda each: abs(each.index + 1 - old_place.round_index))[:MOST_OFFERED]
    for each in nearest:
        if each.index + 1 == old_place.round_index and old_place.moves:
            item = round_at(pattern, state.work, search.copy.piece, search.copy.number, old_place.round_index)
            places.append(
                Whereabouts(f"{item.label}, stitch {old_place.stitches:,}: where your place was kept", None)
            )
        places.append(_start_after(pattern, state, search, each))
    return tuple(places[:MOST_OFFERED])


def _start_after(pattern: Pattern, state: State, search: Search, look: RoundLook) -> Whereabouts:
    copy, index = search.copy, look.index + 1
    if index >= rounds_of(pattern, copy):
        item = round_at(pattern, state.work, copy.piece, copy.number, look.index)
        return Whereabouts(f"{look.label} is the last: the piece is made", Frog(look.index, item.leaves or 0))
    coming = round_at(pattern, state.work, copy.piece, copy.number, index).label
    is_kept = search.kept == Place(index)
    words = f"{look.label} is whole, {coming} begins" + (": where your place was kept" if is_kept else "")
    return Whereabouts(words, None if is_kept else Frog(index))
