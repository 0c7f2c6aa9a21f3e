"""What is written into a new course folder: its README and the settings of the marking library."""

from __future__ import annotations

README = """\
This folder holds one class: who is in it, what was given out, what came back, and the marks.

1. Write the class list in roster.csv, or save it there from a spreadsheet as CSV. Each line is one apprentice:
   badge,name,units. Units are si or us. A column e-mail may follow; other columns are passed over.
2. Give a lesson out:    {command} give-out 04
   Send each apprentice the zip with their badge, to_send/<lesson>/<badge>.zip. It holds their own questions only.
   To set a due time, add: --due "2030-03-01 16:00"
3. Take in what comes back:    {command} take-in FOLDER
   The folder may hold notebooks, zips, saved e-mails and what a learning system exports. Whose a file is, is told by
   the badge, the name or the address of its sender: 4711.ipynb, 4711/lesson.ipynb, Example Ada_815/lesson.ipynb.
   Where that is not sure, you are asked. Answer with:    {command} whose 3fa2bc12 4711
4. Mark:    {command} mark
5. Write the pages to hand back:    {command} hand-back    (in the folder handed_back/)
   With --mail it also writes an e-mail for each who has an address, in to_mail/. Open it and send it.
6. See how the class is doing:    {command} tables    (in the folder tables/)

{command} due 04 "2030-03-01 16:00" sets or moves a due time later, and due 04 none clears it. With --badge 4711 it is
for one apprentice. The points follow at once. Of several hand-ins the last one in time counts; {command} counts best
(or first) changes that.
{command} choose 04 shows the questions of a lesson and their points. You can leave some out and change points.
{command} withdraw 04 QUESTION and mend 04 QUESTION put right what was wrong in a question, and mark again.
{command} keys 04 writes sheets with the right answers into key_sheets/. Show them to nobody.
{command} badge 4711 5711 gives marks, numbers and hand-ins to a new badge that you wrote in roster.csv.
{command} marks --help says how to write the marks in the columns another program wants.
{command} practice 04 FILE.zip writes practice questions for a learning system (QTI 2.1), none of them graded.
{command} questions shows how to write questions of your own, and checks them.

You can run every step again at any time. Work that is done is not done twice, and nothing is overwritten. If two
commands start at once, the second waits for the first.

needs_a_person.txt lists what you have to look at yourself:
- “Read”: give the answer its points on the marking page. It then leaves the list.
- “Look at”: take the flag off on the marking page.
- “Not taken in”: rename the file and take it in again, or delete it from received/not_taken_in/.
To open the marking page, start jupyter lab in this folder and choose Nbgrader, then Formgrader, in its menu. There you
can change any mark. A mark that you changed stays when you mark again.

given_out/ keeps what was given out, with its keys. Hand-ins are marked by it, even if a question is changed later.
Send nothing of it to anybody. If you corrected a wrong key, mark --corrected uses the corrected one.
lessons/ holds the notebooks that you may change. What you change goes out when you next give the lesson out.
received/ keeps every file just as it came in. Nothing there can be written over.
Back up this folder. It is the only place where the marks are kept.
"""
FOLDER_SETTINGS = """\
# The folders of a class have names of our own.
c.CourseDirectory.source_directory = "lessons"
c.CourseDirectory.release_directory = "as_sent"
c.CourseDirectory.submitted_directory = "handed_in"
c.CourseDirectory.autograded_directory = "marked"
c.CourseDirectory.feedback_directory = "handed_back"
"""
FEEDBACK_SETTINGS = """\
# The marked notebooks show the key to the instructor; feedback leaves it out.
c.GenerateFeedback.preprocessors = [
    "grading.marking.plain_handin.WithoutKeys", "nbgrader.preprocessors.GetGrades",
    "nbgrader.preprocessors.ClearHiddenTests", "nbconvert.preprocessors.CSSHTMLHeaderPreprocessor"
]
"""
NBGRADER_SETTINGS = (
    '''\
"""Settings for nbgrader, so that its own commands and the formgrader work in this folder."""

import importlib.machinery
import json
import pathlib

from nbgrader import preprocessors as pre

c = get_config()  # noqa: F821 - given by nbgrader
_here = pathlib.Path(__file__).resolve().parent
c.CourseDirectory.root = str(_here)
'''
    + FOLDER_SETTINGS
    + """\
c.CourseDirectory.course_id = "default_course"  # the name that parts of nbgrader use whatever stands here
_url = json.loads((_here / "course.json").read_text(encoding="utf-8"))["gradebook"]
if _url:
    c.CourseDirectory.db_url = _url
# Under nbgrader's own autograde the notebooks ask this package for the marks; without it every question would
# end without a number, which nbgrader counts as full points.
c.Autograde.pre_convert_hook = "grading.marking.oracle.before_autograde"
c.Autograde.post_convert_hook = "grading.marking.oracle.after_autograde"
c.OverwriteCells.add_missing_cells = True
# Nothing that was handed in is run: of a hand-in autograde gets the answers, as text, in the released notebook, and no
# file from which a program would load code.
c.Autograde.sanitize_preprocessors = [
    "grading.marking.plain_handin.PlainHandIn", pre.ClearOutput, pre.DeduplicateIds, pre.OverwriteKernelspec,
    pre.OverwriteCells, pre.CheckCellMetadata
]
c.CourseDirectory.ignore = [
    ".ipynb_checkpoints", "__pycache__", "handed_back", "matplotlibrc",
    *(f"*{suffix}" for suffix in importlib.machinery.all_suffixes())
]
# Without ClearSolutions, which would turn the answer cells into code.
c.GenerateAssignment.preprocessors = [
    pre.LockCells, pre.ClearOutput, pre.CheckCellMetadata, pre.ComputeChecksums, pre.SaveCells
]
"""
    + FEEDBACK_SETTINGS
)
