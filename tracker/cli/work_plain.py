"""`rounds work FILE --plain`: one command a line comes in, plain sentences go out, one a line.

For screen readers, scripts and pipes. The end of the input is the same as `quit`; nothing needs saving.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TextIO

from tracker.cli.exit_codes import ExitCode
from tracker.cli.plain_answers import Teller
from tracker.cli.plain_sentences import KEYS
from tracker.phrasing.printable_text import clean, sentence
from tracker.project.project import Project
from tracker.session.state import Refused
from tracker.suggestion import suggestion

LONGEST_LINE = 20_000
"""Characters of one typed line that are looked at."""


@dataclass(frozen=True, slots=True)
class Verb:
    """Something that can be said. The first name is the one that is told; `takes` shows what may follow it."""

    names: tuple[str, ...]
    takes: str
    summary: str
    answer: Callable[[Teller, str], list[str]]


def _plainly(tell: Callable[[Teller], list[str]]) -> Callable[[Teller, str], list[str]]:
    return lambda teller, _: tell(teller)


VERBS = (
    Verb(
        ("repeat", "on", "next", "done"),
        "",
        "you made one repeat, or one run of equal stitches; next round, next stitch, next piece say how far",
        Teller.repeat,
    ),
    Verb(("stitch", "stitches", "s"), "3", "you made so many stitches", Teller.stitch),
    Verb(("round", "row", "r"), "", "you are at the end of the round", Teller.round),
    Verb(("undo", "u"), "", "takes the last thing back", Teller.undo),
    Verb(("place", "where", "now"), "", "tells where you are and what comes now", _plainly(Teller.tell_place)),
    Verb(("lost", "where am i"), "", "asks a few things of your work and finds your place again", Teller.lost),
    Verb(("read",), "", "reads the round as it is written", Teller.read),
    Verb(("ahead", "coming"), "", "reads the next rounds", Teller.ahead),
    Verb(("yarn", "colour", "color"), "", "tells the yarn in use and the next one", Teller.yarn),
    Verb(("far",), "", "tells how far the piece and everything is", Teller.far),
    Verb(("today",), "", "tells how long you worked today", Teller.today),
    Verb(
        ("count", "i have", "counted"),
        "24",
        "you counted so many stitches; the number alone does as well, or one for each part: 6 6 5 6",
        Teller.count,
    ),
    Verb(
        ("mend",),
        "Rnd 3: (1 sc, inc) x 6 (18)",
        "puts a printed line right; alone it tells what could be meant",
        Teller.mend,
    ),
    Verb(("look",), "", "tells where a count that differs may have gone wrong", Teller.look),
    Verb(
        ("z", "it was there"), "", "the mistake was where you were sent; it is thought of sooner then", Teller.confirm
    ),
    Verb(("carry on",), "", "goes on, knowing that a count differs", Teller.carry_on),
    Verb(("differences",), "", "tells the counts that differ", Teller.differences),
    Verb(("ask",), "each, change, every 3 or never", "when to ask you for a count", Teller.ask),
    Verb(("frog", "rip"), "7 12", "you ripped back to round 7 with 12 of its stitches left", Teller.frog),
    Verb(("set",), "9 12", "your place is in round 9 with 12 of its stitches made", Teller.set_place),
    Verb(("pieces",), "", "tells how far each piece is", Teller.pieces),
    Verb(("piece",), "Stem 2", "you go on with another piece or copy", Teller.piece),
    Verb(("note",), "words", "keeps a note at this place", Teller.note),
    Verb(
        ("for",),
        "child under 3, older child or neither",
        "who it is for, if the pattern does not say",
        Teller.whom,
    ),
    Verb(
        ("weigh",),
        "R 43 g",
        "what a ball weighs; weighed again later, it tells whether it lasts",
        Teller.weigh,
    ),
    Verb(("notes",), "", "tells the notes", Teller.notes),
    Verb(("step",), "2 done", "you did a making-up step; step 2 not done takes it back", Teller.step),
    Verb(("steps", "making up"), "", "tells the making-up steps", Teller.steps),
    Verb(("materials", "things"), "", "tells what you need", Teller.materials),
    Verb(("history",), "", "tells what you made, day by day", Teller.history),
    Verb(("another",), "", "begins everything once more when it is made", Teller.another),
    Verb(("explain",), "magic ring", "tells what a word means; alone, those of what comes now", Teller.explain),
    Verb(("changes",), "", "tells what changed in the pattern file", _plainly(Teller.changes)),
    Verb(("take up",), "", "goes on with a project whose pattern file was moved", Teller.take_up),
    Verb(("work here",), "", "works here when another window was closed", Teller.work_here),
    Verb(("agree",), "", "goes on with the changed pattern", _plainly(Teller.agree)),
)
_BY_NAME = {name: verb for verb in VERBS for name in verb.names}
_CHOOSE = f"{', '.join(KEYS[:-1])} or {KEYS[-1]}: chooses what was told after a count that differs."
_LEAVE_ALL_THE_SAME = "Make room for it and say quit, or say quit once more to leave and lose that."
_QUIT, _HELP = ("quit", "leave", "exit", "q"), ("help", "?")


def work_plainly(project: Project, lines: Iterable[str] | None = None, out: TextIO | None = None) -> int:
    """Answer each line until `quit` or the end. Standard input and output are used by default."""
    out = sys.stdout if out is None else out
    enter_repeats = lines is None and sys.stdin.isatty()
    teller = Teller(project)
    is_leaving = False
    try:
        _say(out, [*teller.greeting(), *teller.trouble()])
        for typed in sys.stdin if lines is None else lines:
            words = " ".join(typed[:LONGEST_LINE].split()) or ("repeat" if enter_repeats else "")
            if words.casefold() in _QUIT:
                if is_leaving or project.retry() or not project.loss:
                    break
                is_leaving = True
                _say(out, [sentence(project.loss), _LEAVE_ALL_THE_SAME])
                continue
            is_leaving = False
            _say(out, [*answer(teller, words), *teller.news(), *teller.trouble()])
    except KeyboardInterrupt:
        pass
    finally:
        project.close()
    if project.loss:
        _say(out, [sentence(project.loss)])
        return ExitCode.REFUSED
    return ExitCode.DONE


def answer(teller: Teller, words: str) -> list[str]:
    """What to say to one line. A blank line is passed over; what is not understood changes nothing."""
    if not words:
        return []
    if words.casefold() in _HELP:
        return [*(f"{_usage(verb)}: {verb.summary}." for verb in VERBS), _CHOOSE, "quit: leaves; everything is kept."]
    try:
        return _answer(teller, words)
    except Refused as refused:
        return [sentence(refused.reason)]


def _answer(teller: Teller, words: str) -> list[str]:
    if teller.is_searching and (words.isdecimal() or words.casefold() == "skip"):
        return teller.search(words.casefold())
    if words.casefold() in KEYS:
        return teller.choose(words.casefold())
    if words.replace(" ", "").isdecimal():
        return teller.count(words)
    command = _verb_of(words)
    if command is None:
        return [_unknown(words)]
    verb, argument = command
    teller.is_searching = False
    return verb.answer(teller, argument)


def _verb_of(words: str) -> tuple[Verb, str] | None:
    """The verb that a line begins with, and what follows it; names of several words come first."""
    parts = words.split(" ")
    for length in (3, 2, 1):
        verb = _BY_NAME.get(" ".join(parts[:length]).casefold())
        if verb is not None:
            return verb, " ".join(parts[length:])
    return None


def _usage(verb: Verb) -> str:
    return f"{verb.names[0]} {verb.takes}".rstrip()


def _unknown(words: str) -> str:
    # So much of a line is enough to know it again, and fits beside the sentence.
    shortened = words if len(words) <= 40 else words[:39] + "…"
    names = [*_BY_NAME, *_QUIT, *_HELP]
    first = words.casefold().split(" ")[0]
    near = suggestion(words, names) or suggestion(first, names)
    hint = f"do you mean {near}? " if near else ""
    return sentence(f"there is no command {shortened}; {hint}say help for all of them")


def _say(out: TextIO, lines: list[str]) -> None:
    for part in lines:
        out.write(clean(part) + "\n")
    out.flush()
