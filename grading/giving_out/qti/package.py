"""A package of practice questions for a learning system: items of QTI 2.1, their drawings and a list of all."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

from grading.course.course import CourseError, write_safely
from grading.giving_out.give_out import nameless
from grading.giving_out.qti.items import KINDS, item
from lessons.notebook import bank
from lessons.notebook.still import drawing_of
from lessons.questions.question import Question, pose_variant
from lessons.units.readout import counted

_CONTENT = "http://www.imsglobal.org/xsd/imscp_v1p1"
_ITEM = "imsqti_item_xmlv2p1"
MOST = 12  # sets of numbers of a question: each has at least so many


def write_practice(lesson: str, target: Path, units: str, sets: int) -> int:
    """Write the practice questions of a lesson, each with so many sets of numbers; return how many items there are.

    Raises
    ------
    CourseError
        If there is no such lesson, or the numbers are out of range.
    """
    if not 1 <= sets <= MOST:
        raise CourseError(f"{counted(sets, 'set')} of numbers cannot be made of each question. Choose 1 to {MOST}.")
    known = {each.notebook: each.questions for each in bank.lessons()}
    found = [name for name in known if name == lesson or name.startswith(f"{lesson}_")]
    if len(found) != 1:
        raise CourseError(
            f"There is no lesson “{lesson}” with practice questions. The lessons are: {', '.join(known)}."
        )
    files = dict(_files(found[0], known[found[0]], units, sets))
    write_safely(target, _packed({**files, "imsmanifest.xml": _manifest(found[0], files)}))
    return sum(name.endswith(".xml") for name in files)


def _files(lesson: str, questions: tuple[Question, ...], units: str, sets: int) -> Iterator[tuple[str, bytes]]:
    for question in (each for each in questions if each.kind in KINDS):
        for index in range(min(sets, len(question.variants))):
            posed, name = pose_variant(question, index, units), f"{question.id.replace('.', '-')}-{index + 1}"
            svg, picture = nameless(drawing_of(posed)), f"pictures/{name}.svg"
            title = f"{bank.title_of(lesson)}: {question.id.partition('.')[2]} {index + 1}"
            yield f"{name}.xml", item(posed, name, title, picture if svg else "")
            if svg:
                yield picture, _with_namespace(svg).encode()


def _with_namespace(svg: str) -> str:
    """Return a drawing as a file of its own, which has to say what it is."""
    return (
        svg
        if "xmlns=" in svg[: svg.index(">")]
        else svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    )


def _manifest(lesson: str, files: dict[str, bytes]) -> bytes:
    root = ET.Element("manifest", {"xmlns": _CONTENT, "identifier": f"ostrel-{lesson}"})
    about = ET.SubElement(root, "metadata")
    for tag, words in (("schema", "QTIv2.1 Package"), ("schemaversion", "1.0.0")):
        ET.SubElement(about, tag).text = words
    ET.SubElement(root, "organizations")
    resources = ET.SubElement(root, "resources")
    for name in (each for each in files if each.endswith(".xml")):
        stem = name.removesuffix(".xml")
        resource = ET.SubElement(resources, "resource", {"identifier": f"res-{stem}", "type": _ITEM, "href": name})
        for file in (name, f"pictures/{stem}.svg"):
            if file in files:
                ET.SubElement(resource, "file", {"href": file})
    ET.indent(root)
    return bytes(ET.tostring(root, encoding="utf-8", xml_declaration=True))


def _packed(files: dict[str, bytes]) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name, date_time=(2000, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED)
    return whole.getvalue()
