"""Reads steps of work by their words and says what is wrong with their order, after 29 CFR 1910.147(d).

A list of steps, or a sentence that tells them one after another, is turned into kinds of step, in the order in which
its words name them. It knows words, not lessons, so a new list anywhere is read the same way.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

ORDER = ("prepare", "shut_down", "isolate", "lock", "release", "prove")  # paragraphs (d)(1) to (d)(6) of the rule
CORE = ORDER[2:]
WORDS = {
    "prepare": r"\bpermit\b(?! the)|\btell (?:the |them|operations|everybody|all)|\btold\b|\bprepare\b",
    "shut_down": r"\bshut(?:s|ting)? down\b|\b(?:loop|put|controller)\b[^.;:]{0,12}\bin manual\b|\bby-?pass(?:ed)? set\b",
    "isolate": (
        r"(?<!prov)\bisolat(?:e|es|ed|ing)\b|\bblock(?:ed)?(?= in\b|,| and\b| both\b)|\bblock valves?\b[^.;:]*\bshut\b"
        r"|\b(?:close|shut) (?:\w+ ){0,2}(?:block|hand|inlet|outlet|isolati\w+) (?:and outlet )?valves?\b"
        r"|\bturn off the (?:air|supply|power|signal)|\bde-?energi[sz]e\b|\bspade (?:both|in|off)"
        r"|\bshut off\b|\bcut off\b|\bshut (?:and vent )?(?:the |its )?air\b|\bisolating device"
    ),
    "lock": (
        r"(?<!to )(?<!stays )\block(?:s|ed|ing)?\b(?!-up)(?! supply)(?! (?:come )?off)|\btagged\b"
        r"|\btag (?:and|out|it|them|all)\b|\bpadlock|\block-?out\b|\bhang (?:\w+ ){0,2}tag"
    ),
    "release": (
        r"\bdrain(?:s|ed|ing)?\b|\bvent(?:ed|ing)?\b|\bpurged\b|\bpurge (?:with|and neutral)|\bdepressuri[sz]\w*"
        r"|\blet (?:the spring )?(?:down|out)\b|\bempt(?:y|ied)\b|\breleased? what\b|\bbleed (?:\w+ ){0,2}(?:off|down)\b|\brelieve"
        r"|\brelease the (?:air|pressure)|\bopen the drain"
    ),
    "prove": (
        r"(?<!not )\bprov(?:e|es|ed|ing)\b(?! isolation| nothing| means| vented| that the)|\bverif(?:y|ied|ies|ication)\b"
        r"|\bcheck (?:that (?:nothing|no |it is dead)|for zero)|\btest (?:it )?(?:dead|for zero)"
        r"|\bconfirm (?:that )?(?:no|zero|it is dead)"
    ),
    "work": (
        r"\bcasing bolts?\b|\bunbolt|\bslacken|\buncouple|\bpart the (?:stem |connect)|\bundo\b|\blift off\b|\brepack\b"
        r"|\b(?:turn|pull|ease|loosen|set|reset|tighten) (?:both |the )?(?:packing|gland)"
        r"|\b(?:open|remove) (?:the |its )?(?:bonnet|casing|body)|\b(?:loosen|undo) the \w+ nuts"
    ),
}
_ANY = re.compile("|".join(f"(?P<{kind}>{words})" for kind, words in WORDS.items()), re.IGNORECASE)
_FORBIDS = re.compile(r"\b(?:never|nobody|not|no|before|until|unless|without)\b", re.IGNORECASE)
_LOCKED = re.compile(r"\block(?:s|ed|ing)?\b(?!-up)[^,;:.]*", re.IGNORECASE)
_ENERGIES = re.compile(r"\b(?:air|signal|electric\w*)\b", re.IGNORECASE)
_ALL = re.compile(r"\b(?:process|valves?|all|every|each|both|line)\b", re.IGNORECASE)


def kinds(text: str) -> list[str]:
    """Return the kinds of step a text names, in the order of its words."""
    return [str(found.lastgroup) for found in _ANY.finditer(text)]


def problems(steps: Sequence[str]) -> list[str]:
    """Return what is wrong with a list of steps; empty if it tells no isolation, or tells it whole and in order."""
    told = [kind for step in steps for kind in kinds(step)]
    core = [kind for kind in told if kind in CORE]
    if len(set(core)) < 2 or not {"isolate", "lock"} & set(core):
        return []
    missing = [f"{kind} is missing" for kind in CORE if kind not in core]
    return [*_core_out_of_order(core), *_rest_out_of_order(told), *missing, *_locked_in_part(steps)]


def sentence_problems(sentence: str) -> list[str]:
    """The same for one sentence, which need not tell all; one that forbids something is no order of work."""
    core = [kind for kind in kinds(sentence) if kind in CORE]
    if (
        len(set(core)) < 2
        or not {"isolate", "lock"} & set(core)
        or (_FORBIDS.search(sentence) and " then " not in sentence)
    ):
        return []
    unlocked = "isolate" in core and "lock" not in core  # isolated and then emptied behind an open door
    return [*_core_out_of_order(core), *["lock is missing"] * unlocked, *_locked_in_part([sentence])]


def _core_out_of_order(core: list[str]) -> list[str]:
    wrong = []
    for place, kind in enumerate(core):
        later = [other for other in core[:place] if CORE.index(other) > CORE.index(kind)]
        # Once it was proved, air may be let in and out again for a test, if dead is proved again after it.
        again = kind == "release" and set(later) == {"prove"} and "prove" in core[place + 1 :]
        if later and not again:
            wrong.append(f"{kind} comes after {later[0]}")
    return wrong


def _rest_out_of_order(told: list[str]) -> list[str]:
    first = {kind: told.index(kind) for kind in (*ORDER, "work") if kind in told}
    early = [kind for kind in ORDER[:3] if kind in first]
    wrong = [f"{b} comes before {a}" for a, b in pairwise(early) if first[b] < first[a]]
    done = max(first[kind] for kind in first if kind != "work")
    return wrong + ["work begins before the isolation is done"] * (first.get("work", done) < done)


def _locked_in_part(steps: Sequence[str]) -> list[str]:
    locks = [found[0] for step in steps if "lock" in kinds(step) for found in _LOCKED.finditer(step)]
    whole = [words for words in locks if _ALL.search(words) or not _ENERGIES.search(words)]
    return ["not everything is locked"] if locks and not whole else []
