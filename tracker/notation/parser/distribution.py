"""How a stitch with a count and a place is spread: "2 sc in next st", "6 sc in next 6 sts", "48 sc around".

Where the words leave open whether a count is meant for each place or for all of them, both readings are kept.
"""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import (
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Option,
    Role,
    Some,
    Spread,
    Technique,
    ToEnd,
)
from tracker.notation.bunches import ONE_STITCH
from tracker.notation.instructions import (
    FIRST_CORNER,
    KIND,
    MAY_STAND_IN_ONE,
    MOST_IN_AN_INCREASE,
    MOST_TIMES,
    NAMES_IN_ONE,
    is_at_corner,
    is_cluster,
)
from tracker.notation.instructions import skipping as skipping_one
from tracker.notation.parser.worked_into import Where

TALL_GROUP = 5
"""From here on a count before "around" is the whole round ("48 sc around"), not so many in each stitch."""


MOST_IN_A_STITCH = 12
"""More than this are worked into no one stitch of a round, whose "30 sc in each st" is one in each (common practice,
no source)."""


@dataclass(frozen=True, slots=True)
class Amount:
    """`count` of an act, read from `words`; `behind` says that the count stood behind the stitch ("sc 2").

    `single`: it is one plain stitch, so that the count may mean several in one place. `evenly`: so it is said.
    """

    act: Instruction
    count: int | None
    single: bool
    words: str
    behind: bool = False
    evenly: bool = False


def spread(amount: Amount, where: Where | None) -> list[Item]:
    """The items that an amount of a stitch with its place stands for."""
    if _is_spread_out(amount, where):
        return [Some(replace(amount.act, spread=Spread.EVENLY), Exactly(amount.count or 1))]
    if where is None:
        return _without_place(amount)
    if where.ends:
        act = replace(_in_one(amount) if amount.single else amount.act, spread=Spread.AT_BOTH_ENDS)
        return [Some(act, Exactly(2 if amount.single else 2 * (amount.count or 1)))]
    act, count = _placed(amount.act, where), amount.count or 1
    if where.onward and where.from_hook and count > 1:
        return [Some(act), Some(replace(act, into=Into.STITCH, from_hook=0), Exactly(count - 1))]
    amount = replace(amount, act=act)
    if where.into is Into.PART and isinstance(where.bases, Exactly):
        return [Some(act, Exactly(count * where.bases.count if where.each else max(count, where.bases.count)))]
    if where.into is Into.RING:
        return [Some(replace(act, takes=0, into=Into.RING), Exactly(count))]
    if where.same:
        same_space = where.into is Into.SPACE
        times = where.bases if where.each and isinstance(where.bases, Exactly) else Exactly(1)
        return [Some(replace(_in_one(amount), takes=0, into=Into.SAME, from_hook=0, same_space=same_space), times)]
    if where.every:
        return _every_nth(amount, where)
    if act.takes > 1:
        return _decreases(amount, where)
    if not amount.single:
        return _increases(amount, where)
    if isinstance(where.bases, ToEnd):
        return _to_the_end(amount, where)
    if where.over and act.name in ONE_STITCH and where.bases.count % count == 0:
        return [Some(replace(act, takes=where.bases.count // count), Exactly(count))]
    return _into_some(amount, where, where.bases.count)


def is_unshared(amount: Amount, where: Where) -> bool:
    """Whether "4 cl over next 6 sts", "3 dec over next 4 sts" or "16 dc in 18 sts" leave open how many go where; "3
    sc in next 2 sts" are three in each."""
    act, count, bases = amount.act, amount.count or 1, where.bases
    if where.each or not isinstance(bases, Exactly) or count == 1:
        return False
    if act.takes > 1:
        return where.over and count * act.takes != bases.count
    is_large = count > MOST_IN_AN_INCREASE and where.into is Into.STITCH and not where.onto
    if not amount.single or bases.count in (1, count) or not (where.over or is_large):
        return False
    return not (where.over and act.name in ONE_STITCH and bases.count % count == 0)


def _is_spread_out(amount: Amount, where: Where | None) -> bool:
    """ "inc 6 evenly", "6 dec around": so many in all, and other stitches between them."""
    if (amount.count or 0) < 2 or not (amount.act.technique is Technique.INCREASE or amount.act.is_decrease):
        return False
    if where is None:
        return amount.evenly
    return where.bases == ToEnd() and not where.each and where.into is Into.STITCH


def _placed(act: Instruction, where: Where) -> Instruction:
    """The act with its place; a decrease stands over stitches wherever it is said to go."""
    if where.into is not Into.STITCH and act.takes <= 1:
        onto = FIRST_CORNER if where.first and is_at_corner(where.onto) else where.onto
        act = replace(act, into=where.into, onto=onto)
    if where.first and where.into is Into.STITCH and where.bases == Exactly(1):
        act = replace(act, over_first=True)
    if where.onto and where.into is Into.STITCH and not where.also_spaces:
        act = replace(act, onto=where.onto)  # a stitch at the corner, or of a group
    if where.from_hook:
        act = replace(act, into=Into.CHAIN, from_hook=where.from_hook)
    return act


def _in_one(amount: Amount) -> Instruction:
    """All of the amount into one base."""
    act, number = amount.act, amount.count or 1
    if number == 1:
        return act
    if not amount.single and number <= MOST_TIMES:
        return replace(act, makes=act.makes * number)
    if not amount.single:
        return replace(act, makes=tuple(replace(made, count=made.count * number) for made in act.makes))
    technique = Technique.INCREASE if number <= MOST_IN_AN_INCREASE else Technique.IN_ONE
    return replace(
        act, name=NAMES_IN_ONE[technique], makes=(replace(act.makes[0], count=number),), technique=technique
    )


def _choice(words: str, likely: Item, other: Item, why: str) -> list[Item]:
    return [Choice(ChoiceKind.COUNT, (Option((likely,)), Option((other,), why, rescue=True)), words)]


def _without_place(amount: Amount) -> list[Item]:
    """ "sc", "3 sc": one after the other; two or three may be meant for one stitch."""
    if amount.count is None:
        return [Some(amount.act)]
    plain = Some(amount.act, Exactly(amount.count))
    if amount.behind or not amount.single or amount.count not in MAY_STAND_IN_ONE or amount.act.is_slip_stitch:
        return [plain]
    why = f"read '{amount.words}' as {amount.count} in one stitch, because that uses the stitches that are there"
    return _choice(amount.words, plain, Some(_in_one(amount)), why)


def _every_nth(amount: Amount, where: Where) -> list[Item]:
    """ "2 sc in every 4th st" is three plain and one increase; "sc in every other st" passes one over."""
    act = amount.act
    name = act.makes[0].kind or "sc"
    if act.takes > 1:
        between = where.every - act.takes
        plain = (
            (Some(replace(act, name=name, takes=1, technique=Technique.STITCH), Exactly(between)),)
            if between > 0
            else ()
        )
        return [Group((*plain, Some(act)), where.bases, act.span)]
    increase = _in_one(amount) if amount.single else act
    passed_over = Some(skipping_one(act.span), Exactly(where.every - 1))
    skipping = Group((Some(increase), passed_over), where.bases, act.span)
    if amount.single and amount.count in (None, 1):
        return [skipping]
    one = replace(act, name=name, makes=(replace(act.makes[0], count=1),), technique=Technique.STITCH)
    with_plain = Group((Some(one, Exactly(where.every - 1)), Some(increase)), where.bases, act.span)
    why = f"read as worked into every {where.every}th stitch only, the others passed over"
    options = (Option((with_plain,)), Option((skipping,), why, rescue=True))
    return [Choice(ChoiceKind.EVERY, options, act.span)]


def _decreases(amount: Amount, where: Where) -> list[Item]:
    """ "dec over next 2 sts" is one, "dec in next 8 sts" four; "dc2tog in next st" may go into that one alone."""
    act, words = amount.act, amount.words
    if isinstance(where.bases, ToEnd):
        if where.each and is_cluster(act):
            in_each = Some(replace(act, takes=1, into=where.into), where.bases)
            return _choice(words, in_each, Some(act, where.bases), f"read '{words}' as taking {act.takes} stitches")
        return [Some(act, where.bases)]
    over = where.bases.count
    in_one = Some(replace(act, takes=1, into=where.into))
    if where.into is Into.SPACE and (over == 1 or where.each):
        return [Some(in_one.act, where.bases)]
    if where.into is Into.SPACE:  # a leg in each of them, "sc2tog over next 2 ch-3 sps"
        times = over // act.takes if over % act.takes == 0 else 1
        return [Some(replace(act, takes=over // times, into=where.into, onto=where.onto), Exactly(times))]
    if act.technique is not Technique.DECREASE and not where.has_number and over == 1 and amount.count is None:
        if is_cluster(act):
            return _choice(words, in_one, Some(act), f"read '{words}' as taking {act.takes} stitches")
        return _choice(words, Some(act), in_one, f"read '{words}' as taking one stitch")
    if amount.count is not None:
        return [Some(act, Exactly(amount.count))]
    if where.each and over > 1:
        return [Some(act, Exactly(max(1, over // act.takes)))]
    if over > act.takes and over % act.takes == 0:
        several = Some(act, Exactly(over // act.takes))
        return _choice(words, several, Some(act, Exactly(over)), f"read '{words}' as {over} decreases")
    return [Some(replace(act, takes=max(over, act.takes)))]


def _increases(amount: Amount, where: Where) -> list[Item]:
    """Increases and named groups: one a base."""
    if amount.count and amount.count > 1 and not where.each:
        return [Some(amount.act, Exactly(amount.count))]
    return [Some(amount.act, where.bases)]


def _to_the_end(amount: Amount, where: Where) -> list[Item]:
    """ "sc around", "2 sc in each st around", "48 sc around"; "12 sc in each" over 12 stitches is asked for."""
    act, count = amount.act, amount.count
    into_each = _in_one(amount)
    if where.also_spaces:
        into_each = replace(into_each, into=Into.STITCH, also_spaces=True, onto=where.onto)
    each = Some(into_each, where.bases)
    whole = Some(act, Exactly(count or 1))
    if (count or 0) > MOST_IN_A_STITCH and where.into is Into.STITCH:
        return [whole]
    if count is not None and count >= TALL_GROUP and where.each and where.into is Into.STITCH and not where.onto:
        why = f"read '{amount.words}' as {count} stitches in all"
        return [Choice(ChoiceKind.COUNT, (Option((each,)), Option((whole,), why)), amount.words)]
    if count is None or count == 1 or where.each:
        return [each]
    if count >= TALL_GROUP:
        return _choice(amount.words, whole, each, "")
    return _choice(amount.words, each, whole, f"read '{amount.words}' as {count} stitches in all")


def _into_some(amount: Amount, where: Where, over: int) -> list[Item]:
    """ "sc in next 6 sts", "2 sc in each of next 3 sts"; "6 sc in next 6 sts" is one in each, "3 dc in next 3 sps" is
    three: a space mostly holds several (common practice, no source)."""
    act, count = amount.act, amount.count
    if count is None or count == 1:
        return [Some(act, Exactly(over))]
    into_each = Some(_in_one(amount), Exactly(over))
    if over != count or where.each:
        return [into_each]
    if where.into is Into.SPACE or (where.onto and not where.onto.startswith(KIND)):
        why = f"read '{amount.words}' as one in each of them"
        return _choice(amount.words, into_each, Some(act, Exactly(count)), why)
    return _choice(
        amount.words, Some(act, Exactly(count)), into_each, f"read '{amount.words}' as {count} in each of them"
    )


def oftener(items: list[Item], times: int, where: Where | None, words: str = "") -> list[Item]:
    """The items so often: "sc twice in next st" fills one place, "inc x 6" and "2 sc in next st, 6 times" go on.

    `words` that say how often behind the place, "sc in next st 3 times", may mean the next ones too.
    """
    (item,) = items
    if not isinstance(item, Some) or not isinstance(item.times, Exactly):
        return [Group((item,), Exactly(times))]
    act, onward = item.act, Some(item.act, Exactly(item.times.count * times))
    one_place = where is not None and not where.has_number and item.times.count == 1 and times <= MOST_IN_AN_INCREASE
    if not one_place or act.role is not Role.WORK or act.takes > 1:
        return [onward]
    if len(act.makes) != 1 or act.makes[0].count != 1:
        return [onward]
    makes, name = (replace(act.makes[0], count=times),), NAMES_IN_ONE[Technique.INCREASE]
    filled = Some(replace(act, name=name, makes=makes, technique=Technique.INCREASE))
    if not words or where is None or not is_one_place(where):
        return [filled]
    why = f"read '{words}' as in {times} places"
    return [Choice(ChoiceKind.COUNT, (Option((filled,)), Option((onward,), why, rescue=True)), words)]


def one_for_each(row: list[Item], where: Where) -> list[Item]:
    """ "over the next 12 sts work 12 sc": as many stitches as places; nothing for any other row"""
    only = row[0] if len(row) == 1 else None
    places = where.bases.count if isinstance(where.bases, Exactly) and where.has_number and not where.each else 1
    if places == 1 or where.into not in (Into.STITCH, Into.PART) or not isinstance(only, Some):
        return []
    if only.act.takes != 1 or only.times != where.bases:
        return []
    return spread(Amount(only.act, places, single=True, words=""), where)


def is_one_place(where: Where) -> bool:
    """Whether it names one stitch, and neither by a number nor as the same again."""
    return where.into is Into.STITCH and where.bases == Exactly(1) and not (where.has_number or where.same)


def or_all_in_one(items: list[Item], act: Instruction, words: str) -> list[Item]:
    """ "2 dc together in the next st": closed together, or in a translated pattern both in that one stitch"""
    if is_cluster(act) or not 1 < act.takes <= MOST_IN_AN_INCREASE:
        return items
    made = replace(act.makes[0], count=act.takes)
    in_one = replace(act, name=NAMES_IN_ONE[Technique.INCREASE], makes=(made,), takes=1, technique=Technique.INCREASE)
    why = f"read '{words}' as {act.takes} in one stitch"
    return [Choice(ChoiceKind.COUNT, (Option(tuple(items)), Option((Some(in_one),), why, rescue=True)), words)]
