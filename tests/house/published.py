"""The published sources this project stands on, each in one place, with how well it is known.

A source string is one or more statements, parted by semicolons or full stops. Each names a source of this list or says
plainly that there is none. A standard that was not read itself is cited with "second-hand" or "from memory".
"""

from __future__ import annotations

import re

# Pattern -> what a statement that names it must also say: nothing where the text itself (or a transcription) was read.
READ, SECOND_HAND, MEMORY = "", r"second-hand|from memory", r"from memory|by title"
PUBLISHED = {
    # flow: sizing, characteristic
    r"IEC 60534-2-1|ISA-75\.01\.01": READ,
    r"IEC 60534-2-4": READ,  # linear and equal percentage; its deviation clause is from memory
    r"Modelica Standard Library": READ,
    r"`?fluids`?": READ,
    r"IAPWS": READ,  # by CoolProp and iapws
    r"ISA-75\.11\.01": SECOND_HAND,
    r"ISA-RP75\.23": SECOND_HAND,
    r"IEC 60534-1\b": MEMORY,
    r"IEC 60534-8-4": MEMORY,
    r"ISA-S75\.01-1985": MEMORY,
    r"IEC 60534-8-3": SECOND_HAND,  # by `fluids`, which writes its clause 5 out, and by its printed examples
    # leakage, tests, signals
    r"FCI 70-2": SECOND_HAND,
    r"GB/T 4213": SECOND_HAND,
    r"IEC 60534-4\b": SECOND_HAND,
    r"IEC 60534-9": SECOND_HAND,
    r"ISA-75\.25\.01": rf"{SECOND_HAND}|by its scope",
    r"IEC 61298-2": SECOND_HAND,
    r"ISA-51\.1": MEMORY,
    r"IEC 60381-1|IEC 60382": MEMORY,
    r"ISA-5\.1\b": MEMORY,
    r"NE ?43": MEMORY,
    r"HART protocol": SECOND_HAND,
    # air
    r"ISA-7\.0\.01": SECOND_HAND,
    r"NACA (Report 1135|TN 1592)": SECOND_HAND,
    # safety duty, emissions, hearing
    r"IEC 61508|IEC 61511": MEMORY,
    r"Lundteigen and Rausand|SPC/Technical/General/48": SECOND_HAND,
    r"ISO 15848-1": SECOND_HAND,
    r"40 CFR 61\.242-7": READ,
    r"29 CFR 1910\.95|2003/10/EC": SECOND_HAND,
    # body, ratings, bolts, installing
    r"ASME B16\.34|ASME B16\.5\b": SECOND_HAND,
    r"NASA RP-1228": MEMORY,  # only its title page was seen
    r"ISO 898-1|ASME B16\.20|MSS SP-25|EN 1092-1|IEC 60534-2-3": MEMORY,
    r"NACE MR0175|ISO 15156|ASTM G93": MEMORY,
    # practice and safety
    r"DOE-HDBK-1018/2-93": READ,
    r"MIL-HDBK-1003/7": READ,
    r"TM 5-810-15": READ,
    r"NAVFAC MO-209": READ,
    r"PVS2017-3518": r"abstract",
    r"29 CFR 1910\.147": READ,
    r"HSG253": SECOND_HAND,
    r"ASME PCC-1": MEMORY,
    # mathematics and control
    r"Fritsch and (Carlson|Butland)|Kahaner": MEMORY,
    r"Nyquist|Darcy-Weisbach|Fourier": MEMORY,
}
NONE_PUBLISHED = (
    "worked by hand",
    "computed here",
    "common practice, no source",
    "own choice, no source",
    "from memory",
)


def statements(source: str) -> list[str]:
    """Part a source string into its statements.

    >>> statements("DOE-HDBK-1018/2-93, p. 47; statics, worked by hand. Order: common practice, no source.")
    ['DOE-HDBK-1018/2-93, p. 47', 'statics, worked by hand', 'Order: common practice, no source']
    """
    parts = re.split(r";\s+|\.\s+(?=[A-Z])", " ".join(source.split()).removesuffix("."))
    return [part for part in parts if part]


def wrong(source: str) -> list[str]:
    """Return what is wrong with a source string: statements without a known source, or cited better than known."""
    return [f"{part!r}: {said}" for part in statements(source) if (said := _wrong(part))] or (
        [] if source.strip() else ["no source"]
    )


def _wrong(part: str) -> str:
    named = {pattern: must for pattern, must in PUBLISHED.items() if re.search(pattern, part)}
    if not named and not any(form in part.lower() for form in NONE_PUBLISHED):
        return f"names no known source; write one of tests/house/published.py, or {', or '.join(NONE_PUBLISHED)}"
    careless = [pattern for pattern, must in named.items() if must and not re.search(must, part)]
    return f"say how {careless[0]} is known: {PUBLISHED[careless[0]]}" if careless else ""
