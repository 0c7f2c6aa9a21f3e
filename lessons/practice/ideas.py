"""The main ideas of the course, and the questions that give an opportunity to use each.

An idea takes about seven opportunities (Koedinger 2023); `python -m tests.opportunities` lists those with fewer. A lesson
with ideas of its own says them in its module, as `IDEAS`.
"""

from __future__ import annotations

IDEAS: dict[str, str] = {
    "The flow goes with the root of the pressure drop.": "drop.root drop.flow drop.need drop.w2 drop.w3 capacity.flow "
    "capacity.kv leakage.capacity leakage.w1",
    "A valve gets the pressure drop that its line leaves it.": "drop.predict drop.rises drop.w4 installed.pump "
    "installed.drop installed.ratio installed.w1 installed.w4",
    "The right name or tag gets the right part.": "drop.parts drop.jobs drop.tags drop.chain drop.w1 drop.w5 trim.parts "
    "trim.w1 stroke.parts",
    "The fluid and the job choose the body.": "bodies.predict bodies.rotary bodies.styles bodies.which bodies.service "
    "bodies.warm bodies.w2 bodies.w3",
    "Seats and ports of a body decide where the fluid goes.": "bodies.double bodies.ports bodies.mix bodies.w1 bodies.w4 "
    "leakage.double",
    "The shape of the trim makes the curve.": "trim.predict trim.shapes trim.port trim.window trim.w3 inherent.pick "
    "inherent.w3",
    "What attacks a trim decides which one lasts.": "trim.guides trim.found trim.pick trim.w4 trim.w5 repair.damage "
    "repair.causes repair.w3",
    "Force is pressure times area.": "trim.force trim.w2 balance.unbalance actuator.force repair.w2 friction.force "
    "friction.w1",
    "Linear adds the same amount, equal percentage multiplies by the same factor.": "inherent.predict inherent.linear "
    "inherent.step inherent.coefficient inherent.pick inherent.w1 inherent.w2",
    "A trim has a smallest flow it can hold, and each flow has its travel.": "inherent.travel inherent.rangeability "
    "inherent.w1 inherent.w4 installed.range",
    "In its line a valve has another curve than on the test stand.": "installed.predict installed.quarter installed.flow "
    "installed.range installed.choose installed.w2 installed.w3",
    "From the choked drop on, more drop brings no more flow.": "capacity.predict capacity.choked capacity.limit "
    "capacity.gas capacity.w1",
    "In the jet the pressure is lowest. There bubbles begin.": "capacity.jet capacity.points capacity.happens "
    "capacity.signs capacity.w2 capacity.w3 capacity.w4",
    "The bench set comes from spring, area and travel.": "actuator.spring actuator.position actuator.w2 actuator.w3 "
    "actuator.w5 repair.spring trouble.leak trouble.bench trouble.w3",
    "The load of the line and the friction shift the stroke.": "actuator.predict actuator.shift actuator.w4 "
    "balance.needed balance.supply balance.w4",
    "Without air, spring and line decide where the valve goes.": "papers.predict papers.fails papers.w4 actuator.fail actuator.service balance.predict "
    "balance.directions balance.w3 balance.w5",
    "Only what is left over of the forces presses on the seat.": "balance.seat balance.needed balance.supply balance.w1 "
    "balance.w2 balance.w3 balance.w4",
    "There is one order of isolation, and as found comes before the work.": "actuator.order balance.order friction.order "
    "stroke.order leakage.order repair.isolate repair.apart repair.w1",
    "Friction makes a dead band.": "friction.predict friction.share friction.read friction.w2 friction.w3 "
    "trouble.friction trouble.w2",
    "The shape of a swing tells a sticking stem from a sharp controller.": "friction.predict2 friction.trace "
    "friction.signs friction.w4 trouble.checks",
    "Each packing is pressed in its own way.": "friction.parts friction.force friction.material friction.weeps "
    "repair.rings friction.w1",
    "A signal range has a live zero: count from there.": "stroke.current stroke.psi stroke.split stroke.w1 actuator.w1 "
    "actuator.parts trouble.zero",
    "Zero, span, friction and linkage each leave their own pattern.": "stroke.predict stroke.faults stroke.gap stroke.span "
    "stroke.linear stroke.w2 stroke.w3",
    "A stroke or step test tells which half is at fault before anything is opened.": "stroke.predict2 stroke.t86 stroke.w4 "
    "trouble.predict trouble.half trouble.diagnose trouble.w1 trouble.w4",
    "Classes II to IV are shares of the rated capacity.": "leakage.predict leakage.capacity leakage.limit "
    "leakage.strictest leakage.match leakage.double leakage.w1 leakage.w2",
    "Classes V and VI go by the seat, and are measured in drops and bubbles.": "leakage.five leakage.bubbles leakage.match "
    "leakage.rig leakage.w4",
    "A leak test says how tight the seat was that day. It isolates nothing.": "leakage.rig leakage.order leakage.strictest "
    "leakage.w2 leakage.w3",
    "Putting back takes as much care as taking down.": "repair.predict repair.category repair.blue repair.rings "
    "repair.crosswise repair.back repair.w4 repair.w5",
    "Plate and papers say what a valve has to be, and what it is.": "papers.letters papers.symbols papers.held papers.stamp "
    "papers.marks papers.order papers.w1 papers.w2 papers.w3 papers.w5",
    "A valve moves only as fast as its air comes and goes.": "air.predict air.limit air.stir air.exhaust air.free air.w1 air.w2 "
    "air.w5",
    "Each device of the air has one job, and its failure its own sign.": "air.parts air.needs air.fails air.where air.dew air.w3 "
    "air.w4",
    "Mend the cause that was measured, then test again.": "trouble.checks trouble.order trouble.w5 trouble.w6 repair.causes "
    "repair.w5 stroke.order",
}
