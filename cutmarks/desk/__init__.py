"""The desk page: a job entered, looked at and made into a pack in the browser, without a terminal and without YAML.

The way of the data. What is kept is the job's own text, and nothing beside it:

    field --edits--> text --draft--> .JOB.draft --says--> a sentence for each field
                       |                       `--look--> elevation, findings, where each hole lands
                       `--save--> JOB --make--> the pack

- `calls.py` is all that the page can ask of cutmarks, as pure functions behind one `call(name, arguments)`: texts and
  names in; HTML, SVG, texts and JSON values out. None writes a file. What they name on the disk they only read.
- `form.py` makes the form of the one declaration of keys, `says.py` puts what was read of the text beside its fields,
  `drawings.py` draws it, `seen.py` has what is shown beside the drawing, `told.py` (with `why.py`, `fewer.py`) what is
  read. `starts.py`, `sent.py`, `found.py`, `written.py` and `printers.py` do what the commands do: one room for both.
- `drafts.py` keeps each change beside the job until it is saved, with all steps back; `places.py` knows which files a
  page may touch; `making.py` writes packs, and `printers.py` what was read of a printer: all that touches the disk.
- `workers.py` runs calls in processes that can be stopped: the newest look wins, a change is never dropped, and each
  has a limit.
- `app.py` is the thin application round it: addresses, token, headers. Starlette, uvicorn and jinja2 are known to it
  and to `pages.py` alone.
"""
