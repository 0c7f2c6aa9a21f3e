"""Makes a new lesson from the parts beside this: `python -m tests.new_lesson TOPIC NN ROOM "Title"`.

The lesson passes every check of structure at once. Its words are placeholders that begin with TODO;
`python -m tests.tidy --check` names those that are left.
"""
