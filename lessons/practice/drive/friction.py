"""Lesson 09: packing, friction, dead band and hunting."""

from __future__ import annotations

import math
from types import SimpleNamespace

from lessons import safety
from lessons.practice import drawn_parts
from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.packing import packing_friction, signal_dead_band

LESSON = "09_packing_friction_hunting"
TERMS: dict[str, str] = {
    "packing follower": "The sleeve that presses on the packing; the packing flange and its nuts pull it down.",
    "lantern ring": "A spacer with an open waist between two sets of packing. It lets a leak out, or oil in.",
    "gland stress": "How hard the follower presses on the packing: its force over the ring area of the packing.",
    "dead band": "How far the signal must turn back before the stem moves back.",
    "stiction": "Friction that is larger at rest than in motion: the stem sticks, then jumps.",
    "hunting": "A controlled value that swings round its set point and never settles.",
    "limit cycle": "A swing that neither grows nor dies out, because something such as stiction sets its size.",
    "cut rings": "Packing cut ring by ring from a braided cord; only the nuts press it.",
    "V-rings": "Packing rings, mostly of PTFE, with lips that open towards the fluid; a spring and the fluid press them.",
    "die-formed rings": "Graphite rings pressed to size in a die, used as a set between tougher end rings.",
    "live loading": "Disc springs under the packing nuts that go on pressing when the packing settles.",
    "reload": "To bring the disc springs of a live-loaded packing back to the height on the maker's sheet.",
    "repack": "To take all the old packing out and put a whole new set in.",
    "PTFE": "A slippery white plastic, the usual packing where it is not too hot.",
    "graphite": "A form of carbon, the usual packing where it is too hot for PTFE; it rubs more.",
}

TAGS = ("FV-1204", "FV-2107", "LV-2112", "PV-4015", "FV-6204", "PV-5102")
FLOWS = ("FV-1204", "FV-6204")  # flow valves that open with a rising signal, as in the traces

PREDICT = Question(
    id="friction.predict",
    kind="predict",
    text="FV-1204 has tight packing and no positioner. The signal rises slowly to 80 %, and the stem follows it up. Now "
    "the signal turns and comes slowly down. What does the stem do?",
    variants=({},),
    options=(
        Option("follows", "It turns at once and comes down with the signal"),
        Option("waits", "It waits, then comes down, always behind the signal"),
        Option("catches_up", "It waits, then drops to where it should be and follows exactly"),
    ),
    why="Now lead the signal up and down with the third slider, and watch the orange dot.",
)

PREDICT_HUNT = Question(
    id="friction.predict2",
    kind="predict",
    text="The same valve, its controller in automatic. The set point is moved up a little, once, and then left alone. What "
    "does the flow do?",
    variants=({},),
    options=(
        Option("settles", "It settles on the set point; the controller just works harder"),
        Option("beside", "It stays a little beside the set point, quite still"),
        Option("swings", "It swings round the set point and never stops"),
    ),
    why="Now look at the left-hand charts. Then take friction away, and change the controller gain.",
)

PARTS = Question(
    id="friction.parts",
    kind="match",
    text="A packing box, cut open. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant(box, asked, spare, travel)
        for box, spare, lists in (
            (
                "packing_box",
                "disc springs, packing spring",
                (
                    "packing flange, packing follower, packing rings, lantern ring, bottom ring",
                    "packing nut, packing follower, packing rings, lantern ring, leak-off plug",
                    "packing studs, packing flange, lantern ring, bottom ring, packing box",
                    "packing nut, packing rings, bottom ring, packing box, stem",
                ),
            ),
            (
                "v_ring_packing",
                "disc springs, die-formed rings",
                (
                    "packing flange, packing follower, V-rings, packing spring, upper adapter",
                    "packing nut, V-rings, packing spring, lower adapter, packing follower",
                    "upper adapter, lower adapter, V-rings, packing box, stem",
                    "packing studs, packing follower, V-rings, lower adapter, packing spring",
                ),
            ),
            (
                "graphite_packing",
                "V-rings, packing spring",
                (
                    "disc springs, packing flange, end rings, die-formed rings, spacer bushing",
                    "disc springs, packing nut, packing follower, die-formed rings, spacer bushing",
                    "packing flange, packing follower, end rings, die-formed rings, packing box",
                    "disc springs, packing studs, end rings, die-formed rings, stem",
                ),
            ),
        )
        for asked, travel in zip(lists, (0.0, 0.3, 0.7, 1.0), strict=True)
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through a packing box: a stem runs up through rings in a bore; numbers stand beside five parts.",
    idea="Follow the force: nuts pull the flange down, the flange presses the follower, the follower presses the rings.",
    step="Compare with the named drawings: chevrons are V-rings, a coil below them is their spring, cups under the nuts are "
    "disc springs.",
    example="The sleeve between flange and rings is the packing follower, in every box.",
    why="On the bench you now know which part presses on which.",
    source="names of parts: common practice, no source",
)


def friction_of(n: SimpleNamespace) -> float:
    """Return the packing friction for the numbers of a question [N]."""
    return float(packing_friction(n.stem, n.rings, n.height, n.stress, n.mu))


def loop_at_half(n: SimpleNamespace) -> dict[str, Q]:
    """Return the signals at which a rising and a falling stroke pass half travel."""
    half_width = n.friction / n.area / (n.high - n.low)
    return {name: Q(100 * (0.5 + way * half_width), "%") for name, way in (("going_up", 1), ("coming_down", -1))}


FORCE = Question(
    id="friction.force",
    kind="number",
    text="A valve has a stem of {stem} and {rings} packing rings, each {height} high. The gland stress is {stress}, half of "
    "it acts on the stem (Y = 0.5), and the friction coefficient is {mu}. How large is the packing friction?",
    variants=tuple(
        {"stem": Q(stem, "mm"), "rings": rings, "height": Q(height, "mm"), "stress": Q(stress, "bar"), "mu": mu}
        for stem, rings, height, stress, mu in (
            (10, 5, 5, 100, 0.08),
            (12, 5, 6, 120, 0.06),
            (12, 6, 6, 80, 0.05),
            (16, 5, 8, 100, 0.05),
            (16, 6, 8, 60, 0.10),
            (20, 5, 8, 70, 0.06),
            (10, 6, 5, 120, 0.10),
            (12, 5, 6, 90, 0.10),
            (16, 5, 8, 80, 0.08),
            (20, 6, 8, 50, 0.05),
            (25, 6, 10, 40, 0.05),
            (12, 6, 6, 140, 0.05),
        )
    ),
    key=friction_of,
    unit="N",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "all_of_it",
            lambda n: 2 * friction_of(n),
            "You let all of the gland stress act on the stem. The rings pass only a part of it sideways: half, here.",
        ),
        Mistake(
            "one_ring",
            lambda n: friction_of(n) / n.rings,
            "That is one ring. The height H is that of all rings together.",
        ),
        Mistake(
            "no_pi",
            lambda n: friction_of(n) / math.pi,
            "You left out π: the rings touch the stem all the way round, π times its diameter.",
        ),
    ),
    working=("touched [mm²] = rim(stem) * rings * height", "sideways [bar] = stress * 0.5", "touched * sideways * mu"),
    idea="Friction is the area the rings touch, times the pressure they touch it with, times the friction coefficient.",
    step="π × {stem} × ({rings} × {height}) is the area; {stress} × 0.5 the pressure on the stem; then times {mu}.",
    why="Every turn of the packing nuts raises the stress, and the friction with it.",
    plausible=(0.0, 5000.0),
    source="F = π·d·H·σ·μ·Y, Y about 0.5: ASME/NRC Pump and Valve Symposium paper PVS2017-3518, abstract",
)

# Friction [N] and effective area [cm²].
PAIRS = (
    (150, 200),
    (200, 320),
    (250, 320),
    (300, 480),
    (400, 480),
    (500, 640),
    (250, 200),
    (350, 320),
    (600, 640),
    (450, 320),
    (700, 480),
    (550, 480),
)

SHARE = Question(
    id="friction.share",
    kind="number",
    text="A valve without a positioner: bench set {low} to {high}, effective area {area}, packing friction {friction}. How "
    "large is its dead band, as a share of the signal?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "area": Q(area, "cm²"), "friction": Q(friction, "N")}
        for (friction, area), (low, high) in zip(
            PAIRS,
            (
                (0.2, 1.0),
                (0.4, 2.0),
                (0.2, 1.0),
                (0.2, 1.0),
                (0.4, 1.2),
                (0.2, 1.0),
                (0.8, 2.4),
                (0.4, 2.0),
                (0.4, 1.2),
                (0.8, 2.4),
                (0.4, 2.0),
                (0.4, 1.2),
            ),
            strict=True,
        )
    ),
    key=lambda n: float(signal_dead_band(n.friction, n.area, n.high - n.low)),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "once",
            lambda n: n.friction / n.area / (n.high - n.low),
            "You counted the friction once. To turn round, it is let go one way and taken up the other way.",
        ),
        Mistake(
            "of_the_top",
            lambda n: 2 * n.friction / n.area / n.high,
            "You divided by the top of the bench set. The whole signal is the way from its bottom to its top.",
        ),
    ),
    working=("band [bar] = 2 * friction / area", "span [bar] = high - low", "band / span"),
    idea="First the dead band as a pressure, 2F/A. Then ask what part of the whole bench set that is.",
    step="Work out 2 × {friction} ÷ {area}. Divide it by the difference of {high} and {low}.",
    why="Each time the controller turns round, that much of its signal is lost before anything moves.",
    plausible=(0.0, 200.0),
    source="worked by hand: 2F/(A·span)",
)

READ = Question(
    id="friction.read",
    kind="number",
    text="The as-found stroke of {tag}: the signal went slowly from 10 to 90 % and back, twice; the second round is drawn. "
    "Read the dead band, in per cent of the signal.",
    variants=tuple(
        {"tag": "FV-1204", "friction": friction, "area": 0.032, "low": 0.2e5, "high": 1.0e5, "seed": 11 + i}
        for i, friction in enumerate((102, 128, 154, 179, 205, 218, 230, 256, 282, 307, 333, 358))
    ),
    key=lambda n: 2 * n.friction / n.area / (n.high - n.low),
    unit="%",
    tolerance=0.12,
    mistakes=(
        Mistake(
            "half",
            lambda n: n.friction / n.area / (n.high - n.low),
            "That is from one branch to the middle of the loop. The dead band is its whole width.",
        ),
        Mistake(
            "height",
            lambda n: 0.8 - 2 * n.friction / n.area / (n.high - n.low),
            "That is how far the stem moved. The dead band is how far apart the two ways are, along the signal.",
        ),
    ),
    working=("going_up - coming_down",),
    given=loop_at_half,
    idea="Pick one travel, such as 50 %. At what signal does the stem pass it going up, and at what signal coming down?",
    step="Read both signals at 50 % travel and take one from the other.",
    why="The same travel needs one signal going up and another coming down.",
    plausible=(0.0, 100.0),
    source="computed here: a stroke simulated with Coulomb friction; 2F/(A·span), worked by hand",
    figure=chart_of("traces.stroke_figure"),
    alt="Travel against signal, up and down: a loop with slanting sides and level ends, on a fine grid.",
)

CAUSES = (
    Option(
        "sticky",
        "The valve sticks",
        "A stem that sticks makes a signal of straight slopes, like the teeth of a saw, and "
        "a flow that jumps between two levels. Here all lines are smooth.",
    ),
    Option(
        "tuned",
        "The controller is set too sharp",
        "A controller that is too sharp makes smooth waves round a set point "
        "that stands still. Look at the shape of the signal, and at the set point.",
    ),
    Option(
        "setpoint",
        "The swing comes from outside: another controller moves the set point",
        "The set point stands still here but for one step.",
    ),
)

TRACE = Question(
    id="friction.trace",
    kind="choice",
    text="{tag} has been swinging since the night. This is what the recorder kept. What makes it swing?",
    variants=tuple(
        {"tag": FLOWS[(i + k) % 2], "right": cause, "size": size, "seed": 30 + 7 * i + k, "recorder": True}
        for k, (cause, sizes) in enumerate(
            (
                ("sticky", (0.06, 0.09, 0.12, 0.16)),
                ("tuned", (0.985, 0.99, 0.995, 1.0)),
                ("setpoint", (0.025, 0.03, 0.035, 0.045)),
            )
        )
        for i, size in enumerate(sizes)
    ),
    key=lambda n: n.right,
    options=CAUSES,
    idea="First look at the set point: does it stand still? Then at the signal: smooth waves, or straight slopes?",
    step="Compare signal and travel: does the stem stand still while the signal runs on?",
    example="Level travel with jumps, under a signal like a saw: the stem sticks. Smooth waves on both: it does not.",
    why="The shape of the trace tells you the cause before anybody touches the tuning.",
    source="computed here: PI loop with stiction by the two-parameter model (from memory), without, and with a moved set point",
    figure=chart_of("traces.loop_figure"),
    alt="Two charts against time: set point and flow above, signal and travel below. All but the set point may swing.",
)

SIGNS = Question(
    id="friction.signs",
    kind="several",
    text="Maro asks how to tell a sticking {tag} from a badly tuned controller. Which of these point to the valve?",
    variants=tuple({"tag": tag, "what": what} for tag in TAGS for what in ("flow", "signal")),
    key=lambda _: {"flat", "saw", "small_step"},
    options=(
        Option("flat", "The travel stands still while the signal runs on, then jumps"),
        Option("saw", "The signal looks like a saw: straight up, straight down"),
        Option("small_step", "In manual, a signal step of 2 % moves nothing; one of 10 % does"),
        Option(
            "smooth",
            "Signal and travel are smooth waves, one just behind the other",
            "Smooth waves in which the stem follows the signal point to the tuning, not to the stem.",
        ),
        Option(
            "stops",
            "The swing stops when the controller is put in manual",
            "Any swing made by controller and valve "
            "together stops in manual, a tuning swing too. It does not tell the two apart.",
        ),
        Option(
            "dies",
            "With half the controller gain the swing dies away",
            "That is a controller set too sharp. A sticky valve keeps swinging, only slower: try it in the picture.",
        ),
    ),
    idea="Look for what a stuck stem does and a free stem never does.",
    step="Three of the six belong to a stem that rests while it should move.",
    example="In manual there is no controller to blame: whatever the stem then does not do is its own doing.",
    why="Small steps in manual are the quickest test of all, and they need no recorder.",
    source="computed here: the picture of this lesson; the rest: common practice, no source",
)

MATERIAL = Question(
    id="friction.material",
    kind="choice",
    text="A valve is to be repacked. Its packing gets as hot as {t}; the steam or oil is no danger to either kind. Which "
    "packing rubs least and still stands the heat?",
    variants=tuple(
        {"t": Q(t, "°C"), "right": right}
        for t, right in (
            (60, "ptfe"),
            (260, "graphite"),
            (95, "ptfe"),
            (600, "neither"),
            (310, "graphite"),
            (130, "ptfe"),
            (370, "graphite"),
            (170, "ptfe"),
            (650, "neither"),
            (450, "graphite"),
            (190, "ptfe"),
            (410, "graphite"),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option("ptfe", "PTFE", "PTFE rubs least, but it is good to about 232 °C (450 °F) only."),
        Option(
            "graphite",
            "Graphite",
            "Graphite stands heat to about 538 °C (1000 °F). Below PTFE's limit it would do, but "
            "it rubs more; above its own it burns away in air.",
        ),
        Option(
            "neither",
            "Neither as it stands: ask for an extended bonnet or another design",
            "One of the two stands this heat. Compare with the two limits.",
        ),
    ),
    idea="Two limits decide: PTFE to about 232 °C (450 °F), graphite to about 538 °C (1000 °F).",
    step="Where does {t} lie against the two limits?",
    example="At 20 °C PTFE; in steam of 300 °C (572 °F) graphite; in a fired duct at 700 °C (1292 °F) neither.",
    why="PTFE wherever it can be used; graphite where heat or fire rules PTFE out, at the price of friction.",
    source="PTFE to 450 °F, graphite to 1000 °F: US Army TM 5-810-15, table 8-3; which of them rubs less, and that hot graphite "
    "burns away in air: from memory",
)

CUT, VEES, LIVE = "cut rings", "PTFE V-rings on a spring", "die-formed graphite, live-loaded"
WEEPS = Question(
    id="friction.weeps",
    kind="choice",
    text="The stem of {tag} wept. It has {packing}. Now it is isolated, locked, drained and proved, and you find: {found}. "
    "What does this packing need?",
    variants=tuple(
        {"tag": TAGS[i % 6], "packing": packing, "found": found, "right": right}
        for i, (packing, found, right) in enumerate(
            (
                (CUT, "the follower is level, with plenty of way left under its shoulder", "reset"),
                (VEES, "the follower sits on its stop, both nuts are fast", "renew"),
                (LIVE, "the disc springs stand higher than on the maker's sheet", "reload"),
                (CUT, "the shoulder of the follower has come down on the bonnet", "renew"),
                (VEES, "the shoulder of the follower stands clear of the bonnet, one nut has worked loose", "stop"),
                (LIVE, "the disc springs are at the height of the maker's sheet", "renew"),
                (CUT, "the nuts have settled a little, the rings are soft and there is way left", "reset"),
                (VEES, "the follower sits on its stop, and a lip has a cut from a scratched stem", "renew"),
                (LIVE, "the disc springs are slack, and there is way left under the follower's shoulder", "reload"),
                (CUT, "the rings are hard, shiny and crumble at the edge", "renew"),
                (VEES, "both nuts are loose, and the follower has come up off its stop", "stop"),
                (LIVE, "the disc springs are slack, and the follower's shoulder has come down on the bonnet", "renew"),
            )
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "reset",
            "Set the nuts evenly, a little",
            "That is for cut rings that still have way left under the follower. "
            "Read again what packing it is, and what you find.",
        ),
        Option(
            "stop",
            "Bring the follower down on its stop, level, and no further",
            "That is for V-rings whose follower has come up. Their spring presses them; the nuts only hold the stop.",
        ),
        Option(
            "reload",
            "Reload: bring the disc springs back to the height on the maker's sheet",
            "That is for live-loaded packing whose springs have gone slack, with way left for the follower.",
        ),
        Option(
            "renew",
            "Repack: a whole new set",
            "Something still presses this packing, or could: it has not had its load yet.",
        ),
    ),
    idea="What presses this packing: nuts, a spring in the box, or disc springs? And can it still press?",
    step="{packing}: does it lack load, and is there way left to give it? Then give it the load. If not, renew the set.",
    example="Cut rings and way left: set the nuts. V-rings with the follower up: down on its stop. Slack disc springs and way "
    "left: reload. All else: repack.",
    why="A packing that has its load and still leaks is worn out; more force only makes more friction.",
    source="common practice, no source, and the packing maker's instruction decides",
)

NUTS = (
    Option("nuts", "Set both packing nuts evenly, a little, as the packing's maker says; or repack"),
    Option(
        "back",
        "Hand it back, locks off by their owners; with pressure on, look from a distance for a leak, step the "
        "signal, write down as left",
    ),
)
STEPS = (*safety.isolation_options(), *NUTS)
_ORDER = tuple(step.name for step in STEPS)

ORDER = Question(
    id="friction.order",
    kind="order",
    text="The stem of {tag} {leak}. As found is written down: leak, height of the follower, dead band by small steps. Now "
    "its packing is to be reset. Put the work in order.",
    variants=tuple({"tag": tag, "leak": leak} for tag in TAGS for leak in ("drips", "weeps a little")),
    key=lambda _: _ORDER,
    options=STEPS,
    mistakes=(
        Mistake(
            "nuts_in_service",
            lambda _: ("prepare", "shut_down", "nuts", *safety.ORDER[2:], "back"),
            "You turned the "
            "nuts with the line pressure still below them. Packing that lets go comes out, and the fluid with it.",
        ),
        Mistake(
            "locked_late",
            lambda _: safety.swapped("lock", "release", "nuts", "back"),
            "Locks go on before anything is let out.",
        ),
    ),
    idea="The one order of isolation first, to its end; then the nuts; then hand back and look.",
    step="Six steps of isolation, the nuts, and last the valve goes back.",
    example="A new diaphragm, a new plug, a new ring: the six steps before the first nut are always the same.",
    why=safety.PACKING + " The small step of the signal at the end is the one the night shift left out.",
    source=f"{safety.SOURCE}; the nuts: common practice, no source, and the site's own procedure decides",
)

QUESTIONS = (PREDICT, PREDICT_HUNT, PARTS, FORCE, SHARE, READ, TRACE, SIGNS, MATERIAL, WEEPS, ORDER)
