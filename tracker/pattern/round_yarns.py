"""Which yarn each round of a piece is made with, from what its rounds and the sentences between them say."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.diagnostics import NOWHERE, Problem, Proposal, warning
from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.notation.ast import NEXT_YARN, Choice, ChoiceKind, Colour, Group, Item, Line, every_colour
from tracker.notation.context import Context
from tracker.notation.parser.heading import heading_of
from tracker.notation.yarn_names import figures_of
from tracker.notation.yarn_plan import YarnPlan
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.model import Round, Yarn
from tracker.rounds.plan import Plan


def yarn_key(word: str, yarns: tuple[Yarn, ...]) -> str:
    """The yarn that a word of the round means: its key, its name, its number, words of both; else the word itself."""
    word = word.strip()
    for yarn in yarns:
        if word.lower() == yarn.key.lower() or word.lower() == yarn.name.lower():
            return yarn.key
    figures = figures_of(word)
    counted = [yarn.key for yarn in yarns if figures and figures_of(yarn.key) == figures]
    words = set(word.lower().split())
    inside = [yarn.key for yarn in yarns if words and words <= {yarn.key.lower(), *yarn.name.lower().split()}]
    return counted[0] if len(counted) == 1 else inside[0] if len(inside) == 1 else word


@remembered
def before_the_last(line: Line) -> Line:
    """A line for several rounds as all but the last of them have it: a change of yarn at its end, with none before
    it, is for the last one, "Rnds 3-5: sc around, change to B"."""
    ends = line.body[-1] if line.body else None
    changes = isinstance(ends, Colour) or (isinstance(ends, Choice) and ends.kind is ChoiceKind.CHANGE_IN_LAST)
    return replace(line, body=line.body[:-1]) if changes and not any(every_colour(line.body[:-1])) else line


@dataclass(frozen=True, slots=True)
class YarnQuestion:
    """What is not told of a round's yarn; `words` in brackets behind its heading would tell it, "" for none."""

    message: str
    words: str = ""

    def problem(self, text: str) -> Problem:
        """The question about a round of this text; with words that would tell it, it can be answered yes."""
        end = heading_of(text).end
        question = warning("yarn-untold", self.message, NOWHERE._replace(end=max(end, 1)), _HOW_TO_TELL)
        if not self.words or not end:
            return question
        proposed = f"{text[:end].rstrip()} ({self.words}) {text[end:].lstrip()}"
        return replace(question, proposal=Proposal(proposed, 0, 0, f"put in '{self.words}'"))


def with_sums(problem: Problem, plan: Plan | None) -> Problem:
    """A question on yarns with what the round uses and leaves, which no yarn changes; without a plan no proposal."""
    if problem.code != "yarn-untold" or problem.proposal is None:
        return problem
    proposal = replace(problem.proposal, uses=plan.tally.takes, leaves=plan.leaves) if plan is not None else None
    return replace(problem, proposal=proposal)


_HOW_TO_TELL = "write the yarn behind the number of the round where it begins: Rnd 4 (B): ..."


_UNNAMED = "which yarn comes next? the words do not name it"


@dataclass
class RoundYarns:
    """The yarn in hand while the rounds of a piece are gone through, and what is said of those to come."""

    yarns: tuple[Yarn, ...]
    in_hand: str = ""
    plan: YarnPlan | None = None
    begun: int = 0
    """The round, by its index, from which the plan counts."""
    asks: bool = True
    """Whether what the plan does not tell is still to be asked."""
    missing: set[str] = field(default_factory=set)
    """The keys that were told not to be listed."""
    named: set[str] = field(default_factory=set)
    """The yarns that were in hand."""
    following: str = ""
    """What is behind the yarn in hand on the list, where a line says that another one comes and not which."""
    noted: bool = False
    """Whether the round before names its yarn where it begins."""

    def take(self, changed: str, sentences: Iterable[str], context: Context, index: int) -> None:
        """What stands above a round and beside it: a yarn `changed` to, and sentences that may tell a plan."""
        if changed:
            self.plan = None
            before, self.in_hand = self.in_hand, yarn_key(changed, self.yarns)
            if changed == NEXT_YARN:
                self.in_hand = self._other(before) or NEXT_YARN
                self.following = self._following(before)
        for sentence in sentences:
            plan = yarn_plan(sentence, context)
            if plan is None:
                continue
            self.plan = self.plan.beside(plan) if self.plan is not None else plan
            self.begun, self.asks = index, True
            if plan.usual or (plan.begins and not plan.each):
                self.in_hand = yarn_key(plan.usual or plan.order[0], self.yarns)

    def begin(self, number: int, index: int, own: str, text: str) -> tuple[Problem, ...]:
        """Take up the yarn that the plan tells for a round; the question where it leaves that open. `own` is the yarn
        that the `text` of the round itself begins with, "" if it names none."""
        question = None
        if self.plan is not None:
            if index == self.begun:
                self.plan = self._with_turns(self.plan, own or (self.in_hand if index == 0 else ""))
            planned = yarn_key(self.plan.yarn_of(number, index - self.begun), self.yarns)
            question = None if own or planned else self._open()
            self.in_hand = planned or self.in_hand
        if self.in_hand == NEXT_YARN and self.following and not own:
            question = YarnQuestion(_UNNAMED, self.following)
        self.in_hand, self.noted, self.following = own or self.in_hand, bool(own), ""
        return () if question is None else (question.problem(text),)

    def end(self, yarn: str) -> None:
        """The yarn that a round ends with; a change outweighs what was said of all rounds."""
        self.named |= {self.in_hand, yarn}
        if yarn != self.in_hand and self.plan is not None and not (self.plan.spans or self.plan.turns):
            self.plan = None if self.plan.others else self.plan
        self.in_hand = yarn

    def _open(self) -> YarnQuestion | None:
        """What the plan leaves open of a round that names no yarn."""
        plan = self.plan
        assert plan is not None
        if plan.usual:
            usual, noted = yarn_key(plan.usual, self.yarns), self.noted
            message = f"is it {usual} again, or does {self.in_hand} go on? '{plan.words}'"
            return YarnQuestion(message, usual) if noted and usual != self.in_hand else None
        if not self.asks or not (plan.is_whole or plan.each):
            return None
        self.asks = False
        message = f"which yarn is this round made with? '{plan.words}' leaves it open"
        return YarnQuestion(message, "" if plan.is_whole else self._in_turn(plan.order, plan.each))

    def ask_left_open(self, rounds: list[Round]) -> None:
        """The question about yarns whose order alone is told and that no round names, put to the round where they are
        spoken of."""
        plan = self.plan
        if plan is None or plan.is_whole or not plan.begins or plan.each or self.begun >= len(rounds):
            return
        if {yarn_key(yarn, self.yarns) for yarn in plan.order} <= self.named:
            return
        message = f"from which round on is each yarn worked with? '{plan.words}' leaves it open"
        question = YarnQuestion(message, self._in_turn(plan.order, 1) if plan.alternates else "")
        item = rounds[self.begun]
        problem = with_sums(question.problem(item.text), item.plan)
        rounds[self.begun] = replace(item, problems=(*item.problems, problem))

    def _in_turn(self, order: tuple[str, ...], each: int) -> str:
        """The yarns in turn in words, those that the order lacks as they are listed; "" if there are no two."""
        keys = [yarn_key(yarn, self.yarns) for yarn in order]
        if len(keys) < 2:
            keys += [yarn.key for yarn in self.yarns if yarn.key not in keys]
        rounds = f"{each} round{'s' * (each > 1)}"
        return f"{', '.join(f'{rounds} {key}' for key in keys)}, repeat" if len(keys) > 1 else ""

    def _with_turns(self, plan: YarnPlan, first: str) -> YarnPlan:
        """The plan with its turns, where it tells how often the yarn changes, and the first of two is known."""
        begins = yarn_key(plan.order[0], self.yarns) if plan.order else first
        other = self._other(begins)
        if not plan.each or not other:
            return plan
        return replace(plan, order=(), turns=((begins, plan.each), (other, plan.each)), again=True)

    def settled(self, line: Line, problems: list[Problem]) -> Line:
        """The line with its colours named by the pattern's yarn keys; undeclared ones are told once."""
        if not any(every_colour(line.body)):
            return line
        return replace(line, body=self._settle(line.body, line.text, [self.in_hand], problems))

    def _settle(
        self, items: tuple[Item, ...], text: str, hand: list[str], problems: list[Problem]
    ) -> tuple[Item, ...]:
        """The items with keys of yarns; `hand` holds the yarn in hand, which colours change."""
        settled: list[Item] = []
        for item in items:
            if isinstance(item, Colour):
                hand[0] = self._key(item, text, hand[0], problems)
                item = replace(item, key=hand[0])
            elif isinstance(item, Group):
                # What is in hand where it begins is told only of its first repeat, unless two yarns take turns in it.
                turns = sum(isinstance(part, Colour) and part.key == NEXT_YARN for part in item.body)
                within = [hand[0] if turns == 2 == len(self.yarns) else ""]
                item = replace(item, body=self._settle(item.body, text, within, problems))
                hand[0] = within[0] or hand[0]
            elif isinstance(item, Choice):
                bodies = [self._settle(option.body, text, hand, problems) for option in item.options]
                options = zip(item.options, bodies, strict=True)
                item = replace(item, options=tuple(replace(option, body=body) for option, body in options))
            settled.append(item)
        return tuple(settled)

    def _key(self, item: Colour, text: str, in_hand: str, problems: list[Problem]) -> str:
        if item.key == NEXT_YARN:
            other = self._other(in_hand)
            if not other and self._following(in_hand):
                problems.append(self._which_next(item, text, in_hand))
            return other or NEXT_YARN
        key = yarn_key(item.key, self.yarns)
        keys = [yarn.key for yarn in self.yarns]
        if keys and key not in keys and key not in self.missing:
            fix = f"add [yarn.{key}], or use one of: {', '.join(sorted(keys))}"
            problems.append(warning("new-colour", f"colour '{key}' is not among the yarns", item.span, fix))
            self.missing.add(key)
        return key

    def _other(self, in_hand: str) -> str:
        """The other one of two yarns; "" if there are not two, or the one in hand is not known."""
        others = [yarn.key for yarn in self.yarns if yarn.key != in_hand]
        return others[0] if len(others) == 1 and len(self.yarns) > 1 else ""

    def _following(self, in_hand: str) -> str:
        """The yarn behind this one on the list; "" if there are no two, or this one is not listed."""
        keys = [yarn.key for yarn in self.yarns]
        return keys[(keys.index(in_hand) + 1) % len(keys)] if in_hand in keys and len(keys) > 1 else ""

    def _which_next(self, item: Colour, text: str, in_hand: str) -> Problem:
        """The question which yarn comes next; the one that follows on the list is proposed."""
        question = warning("yarn-untold", _UNNAMED, item.span, _HOW_TO_TELL)
        following, start, end = self._following(in_hand), item.span.start, item.span.end
        if item.span.line:
            return question
        changes = text[start:end].lower().startswith(("ch", "sw"))
        proposed = f"{text[:start]}{'change to ' * changes}{following}{text[end:]}"
        return replace(question, proposal=Proposal(proposed, 0, 0, f"read '{text[start:end]}' as {following}"))
