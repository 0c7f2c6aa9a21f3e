"""Lesson 03, care: how plugs are guided, what wears a trim out, and which trim for which fluid."""

from __future__ import annotations

from itertools import combinations

from lessons.practice import drawn_parts
from lessons.questions.question import Option, Question

WAYS = ("top guiding", "top and bottom guiding", "cage guiding", "port guiding", "stem guiding")
ASKED = (*combinations(WAYS, 3), WAYS[:3], WAYS[2:])
GUIDES = Question(
    id="trim.guides",
    kind="match",
    text="Five ways of guiding a plug; three have a number. What guides each of these?",
    variants=tuple(
        drawn_parts.variant(
            "plug_guiding", ", ".join(asked), ", ".join(w for w in WAYS if w not in asked), travel, words=True
        )
        for asked, travel in zip(ASKED, (0.5,) * 10 + (0.9, 0.2), strict=True)
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(3),
    options=drawn_parts.part_options(3, 2),
    figure=drawn_parts.figure,
    alt="Five plugs side by side, each kept in the middle of its seat in another way; three of them have a number.",
    idea="Find the surface the plug slides on: a bushing above, one below as well, a sleeve, the seat "
    "itself, or the stem's.",
    step="Look for the pink pieces: they guide. Where there is none, the port itself does it.",
    example="A skirt with slots that slides in the seat ring: port guiding.",
    why="A plug wears where it is guided, and dirt can jam it there.",
    source="names: common practice, no source",
)

CAUSES = (
    Option("grit", "Grit has jammed in a narrow gap"),
    Option("galling", "Galling: like metals have rubbed and torn"),
    Option("wire", "Wire drawing: it throttled nearly shut for too long"),
    Option("guide", "The guide bushing is worn"),
    Option("seal", "The plug seal is torn"),
)
FINDS = {
    "grit": (
        "Long scratches on plug and cage, black grains between them; it hung at one place",
        "The plug moves again once the gap to the cage is washed out",
        "Sand packed between skirt and port; plug stuck, metal only scored",
    ),
    "galling": (
        "Metal smeared from cage to plug, rough and torn; no grain of dirt; both of the same soft stainless steel",
        "Clean fluid, but plug and bushing have welded together in spots",
        "New plug and cage of one and the same alloy seized on the first dry stroke",
    ),
    "wire": (
        "Fine shiny grooves straight across the seating line",
        "Plug and seat cut like with a file, at one spot; the recorder shows 3 % travel for weeks",
        "Small channels across both seating faces; leaks when shut",
    ),
    "guide": (
        "Bushing oval, plug rattles, its edge hammered on one side",
        "The stem can be moved sideways by hand; seat worn on one side only",
        "Packing always leaks again, and the bushing has play",
    ),
    "seal": (
        "Seat and plug like new, yet it leaks when shut; the ring on top of the plug is in pieces",
        "A balanced plug: fluid slips over its top; seating faces perfect",
        "Leak test fails, blue marking shows a full ring of contact; the ring in the plug is hard and cracked",
    ),
}
FOUR = (
    "grit galling wire guide", "seal wire galling grit", "guide seal grit wire", "galling guide seal wire",
    "wire grit guide seal", "grit seal galling guide", "galling wire seal grit", "guide grit wire galling",
    "seal guide galling wire", "wire galling grit guide", "grit wire seal galling", "guide galling seal grit",
)  # fmt: skip


def finds(index: int, causes: str) -> dict[str, str]:
    """Return one variant: four finds, and their causes in order."""
    told = {f"find{k}": FINDS[cause][(index + k) % 3] for k, cause in enumerate(causes.split(), start=1)}
    return {"causes": causes, **told}


FOUND = Question(
    id="trim.found",
    kind="match",
    text="Four trims on Jorun's bench. What happened to each?",
    variants=tuple(finds(index, causes) for index, causes in enumerate(FOUR)),
    key=lambda n: {str(place): cause for place, cause in enumerate(n.causes.split(), start=1)},
    places=tuple(Option(str(k), f"{{find{k}}}") for k in range(1, 5)),
    options=CAUSES,
    idea="Where is the damage: on the sliding faces, across the seat, in the bushing, or on the seal?",
    step="Grains: grit. Smeared metal without grains: galling. Grooves across the seat: wire drawing. Play: the guide.",
    example="“A groove as fine as a hair across the seating face” would be wire drawing.",
    why="If you fit the same trim again and leave the cause, it comes back to your bench.",
    source="common practice, no source",
)

TRIMS = (
    Option(
        "balanced",
        "A cage trim with a balanced plug",
        "Its strength is a large port and a high drop "
        "with a small actuator, in a clean fluid; its gaps and its seal do not like dirt.",
    ),
    Option(
        "top",
        "A contoured plug guided at the top, with room round it",
        "Its strength is dirt: nothing narrow for grains to jam in. It carries the whole push of the fluid.",
    ),
    Option(
        "hard",
        "Plug and seat with hard facing",
        "Its strength is a jet that would cut plain steel: nearly shut, wet steam, flashing.",
    ),
    Option(
        "soft", "A single seat with a soft ring let in", "Its strength is shutting bubble-tight in a clean, cool fluid."
    ),
)
JOBS = {
    "clean gas, large port, high drop, and the actuator must stay small": "balanced",
    "clean boiler feed water, large port; an unbalanced plug would need twice the actuator": "balanced",
    "clean condensate from a big line at a high drop, small actuator": "balanced",
    "vacuum residue with coke grains that jam sliding parts": "top",
    "crystals that settle in every narrow gap; the drop is small": "top",
    "catalyst dust in the oil; the last plug stuck in its cage": "top",
    "wet steam, nearly shut most of the day; the last seat was cut by the jet": "hard",
    "flashing condensate that has grooved two plain steel seats": "hard",
    "clean but very fast jet through a nearly shut plug at a high drop; wire drawing within a month": "hard",
    "nitrogen at room temperature that must shut bubble-tight": "soft",
    "clean, cold solvent; the tightest leakage class is asked for": "soft",
    "clean fuel gas, cool, small port, tightest leakage class wanted": "soft",
}


def pick_question(question_id: str, jobs: dict[str, str], points: float = 1.0) -> Question:
    """Return a question for the trim that suits a job; `jobs` goes from the job to the trim."""
    return Question(
        id=question_id,
        kind="choice",
        text="The job: {job}. Which trim suits best?",
        variants=tuple({"job": job, "right": right} for job, right in jobs.items()),
        key=lambda n: n.right,
        options=TRIMS,
        idea="What is hard about this job: the size of the push, the dirt, the jet, or the tightness?",
        step="“{job}”: find the word that tells the trouble, and take the trim made for it.",
        example="Sand that jams sliding parts: a contoured plug guided at the top.",
        why="Every trim is good at one thing and less good at another.",
        points=points,
        source="common practice, no source",
    )


PICK = pick_question("trim.pick", JOBS)
