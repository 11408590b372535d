"""One run of equal acts as it is said aloud, without digits, brackets and abbreviations."""

from __future__ import annotations

import re
from collections.abc import Mapping

from tracker.notation.token_kinds import ORDINALS
from tracker.phrasing.numbers import digits_in_words, in_words
from tracker.phrasing.stitches import act_words
from tracker.rounds.plan import Act, Into, Role, Run

_NTH = {number: word for word, number in ORDINALS.items()}


def run_aloud(run: Run, names: Mapping[str, str], terms: str) -> str:
    """ "three increases", "nine single crochet, one in each chain", "miss two stitches"."""
    act = run.act
    if act.role is Role.SKIP and terms == "UK":
        return _unbracketed(act_words(act, run.times, names)).replace("skip ", "miss ", 1)
    if act.into is Into.CHAIN and len(act.makes) == 1 and act.takes == 1 and not act.remark.startswith("hook "):
        return _in_chains(act, run.times, names)
    return _unbracketed(act_words(act, run.times, names))


def _in_chains(act: Act, times: int, names: Mapping[str, str]) -> str:
    words = _unbracketed(act_words(act, times, names)).removesuffix(" in the chain")
    if act.stitches == 1:
        return f"{words} in one chain" if times == 1 else f"{words}, one in each chain"
    return f"{words} in one chain" if times == 1 else f"{words} in each of {in_words(times)} chains"


def _unbracketed(words: str) -> str:
    words = re.sub(r"in chain (\d+) from the hook", _chain_from_hook, words)
    words = re.sub(r"\(counts as (.*?)\)", r"which counts as \1", words)
    words = re.sub(r"\b(shells?|fans?|v-sts?|\w+) \(([^()]*)\)", r"\1 of \2", words)
    words = re.sub(r"\(([^()]*)\)", lambda match: _and(match[1]), words)
    return digits_in_words(words)


def _chain_from_hook(match: re.Match[str]) -> str:
    return f"in the {_NTH.get(int(match[1]), f'chain number {match[1]}')} chain from the hook".replace(
        "chain number", "number"
    )


def _and(listed: str) -> str:
    """ "2 trebles, chain 1, 2 trebles" in one breath."""
    first, _, last = listed.rpartition(", ")
    return f"{first} and {last}" if first else last
