"""The thin application round the page: addresses, who may ask, and which answers go where.

It serves one machine. Every address begins with a token that only the page's own browser was told; a request that
names another host or comes from another page is refused before anything is looked at.
"""

from __future__ import annotations

import hmac
import json
import threading
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from importlib import resources
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs

from msgspec import Struct, field
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from cutmarks.desk.drafts import OpenJob, decoded, opened
from cutmarks.desk.making import file_of, zip_of, zip_of_shop
from cutmarks.desk.pages import page_html
from cutmarks.desk.places import job_at, jobs_in, new_job_at
from cutmarks.desk.printers import known
from cutmarks.desk.workers import ALONE, BENT, BentCall, FellOver, Superseded, TookTooLong, Workers
from cutmarks.errors import CutmarksError, OutputError
from cutmarks.job.found_file import found_path
from cutmarks.job.load import OwnFiles
from cutmarks.job.reading import MOST_BYTES
from cutmarks.writers.found_file import one_at_a_time, put, standing

MOST_SENT = 2 * MOST_BYTES + 200_000
"""Of a request, bytes: a job's text, with what JSON adds."""
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
SANDBOX = (
    "sandbox allow-scripts allow-downloads; default-src 'none'; style-src 'unsafe-inline'; "
    "script-src 'unsafe-inline'; img-src data: blob:"
)
"""Of what was made: it may run what it brings, as a page of no one, and reach nothing of ours."""
BEGINS: tuple[tuple[str, str], ...] = (
    ("wall", "nothing, a wall in mm"),
    ("floor", "nothing, a floor in mm"),
    ("wall in", "nothing, a wall in inches"),
    ("starter wall", "an example of a wall, to be changed"),
    ("starter floor", "an example of a floor, to be changed"),
    ("starter inch", "an example of a wall in inches, to be changed"),
)
BLANKS: tuple[tuple[str, str], ...] = (
    ("measure-up-wall-A4.pdf", "a wall, A4"),
    ("measure-up-floor-A4.pdf", "a floor, A4"),
    ("measure-up-wall-Letter.pdf", "a wall, Letter"),
    ("measure-up-floor-Letter.pdf", "a floor, Letter"),
)
"""The sheets to fill in on site, in the order of the form."""
ASKED = ("form", "says", "look", "near", "starts", "frees", "told", "sent", "found", "taken_back", "starts_page")
EDITS = ("change", "add", "remove", "rename", "accept", "take")
KEPT = ("sent", "found", "taken_back")
"""What may be kept of what was read at the wall, once it was shown."""
MADE = ("make", "shop")
WISHES = ("paper", "joined", "back", "pictures", "printer", "tray", "again", "replace")
"""What may be wished of a pack."""
TOO_LONG = (
    "This was not done after {limit} of this machine's work, and was stopped: nothing was changed by it. Try it for "
    "ten times as long, or make a job of each wall."
)
PACK_TOO_LONG = (
    "This was not done after {limit} of this machine's work, and was stopped: what was there is as it was before. "
    "Press again, and it may take ten times as long; or make a job of each wall."
)
OWN_FAULT = (
    "This could not be made, and that is a fault of cutmarks itself, not of your job: what was there is as it was "
    "before, and the job is kept. cutmarks make JOB --out DIR --trace, in a terminal, says what to report."
)
FELL_OVER = (
    "This ended before it was done, and what you see may be older than what you typed. Load this page anew; if it ends "
    "again, start cutmarks page again: another version may stand in its place, or this machine has no memory left."
)
TURNS = 5
"""So often a change is made anew, where another one came between."""
TYPES = {
    "html": "text/html; charset=utf-8",
    "pdf": "application/pdf",
    "csv": "text/csv; charset=utf-8",
    "json": "application/json",
    "svg": "image/svg+xml",
    "dxf": "image/vnd.dxf",
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
}


class Desk(Struct, dict=True):
    """What one server holds: its folder, the jobs that are open, the packs that are being made.

    own_files  the user's own files, by the job's path; printers: where measured printers are kept.
    help       the pages of `cutmarks help`, each with what it is about and its text.
    starters   the starter jobs, by the word for each, and the sheets to fill in, by their names.
    """

    folder: Path
    token: str
    own_files: Callable[[Path], OwnFiles]
    starters: Callable[[str], bytes]
    printers: Path
    help: Mapping[str, tuple[str, Callable[[], str]]] = field(default_factory=dict)
    port: int = 0
    workers: Workers = field(default_factory=Workers)
    open: dict[str, OpenJob] = field(default_factory=dict)
    making: dict[str, dict[str, Any]] = field(default_factory=dict)
    lock: threading.RLock = field(default_factory=threading.RLock)

    @property
    def root(self) -> str:
        """What every address begins with."""
        return f"/{self.token}/"

    def job(self, name: str) -> OpenJob:
        """The open job of that name, as its file is now. Raises OutputError."""
        path = job_at(self.folder, name)
        if name not in self.open:
            self.open[name] = opened(path)
        self.open[name].look_at_file()
        return self.open[name]

    def arguments(self, job: OpenJob, **more: object) -> dict[str, Any]:
        """What a call is told of a job."""
        beside = {name: path and str(path) for name, path in self.own_files(job.path).items()}
        return {**more, "text": job.text, "file": str(job.path), **beside, "printers": str(self.printers)}


def application(desk: Desk) -> Guard:
    """The whole application, behind its guard."""
    own = desk.root
    routes = [
        Route(own, _jobs(desk)),
        Route(own + "new", _new(desk), methods=["POST"]),
        Route(own + "static/{name}", _static),
        Route(own + "job/{name:path}", _job(desk)),
        Route(own + "do/{action}/{name:path}", _do(desk), methods=["POST"]),
        Route(own + "zip/{name:path}", _zip(desk)),
        Route(own + "shop/{name:path}", _shop_zip(desk)),
        Route(own + "help/{topic}", _help(desk)),
        Route(own + "blank/{name}", _blank(desk)),
        Route(own + "one", _one(desk)),
        Route(own + "pack/{file:path}", _pack(desk)),
    ]
    return Guard(Starlette(routes=routes), desk)


Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]


class Guard:
    """Looks at every request before the application does, and says on every answer what a browser may do with it."""

    def __init__(self, inner: Starlette, desk: Desk) -> None:
        self._inner, self._desk = inner, desk

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what is not from our own page, else hand it on."""
        if scope["type"] == "lifespan":
            await self._inner(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refused = self._refused(scope)
        if refused is not None:
            await self._with_headers(refused, scope, receive, send)
            return
        await self._with_headers(self._inner, scope, receive, send)

    def _refused(self, scope: Scope) -> Response | None:
        heads = [(bytes(name).lower(), bytes(value).decode("latin-1")) for name, value in scope["headers"]]
        hosts = [value for name, value in heads if name == b"host"]
        ours = {f"127.0.0.1:{self._desk.port}", f"localhost:{self._desk.port}"}
        if len(hosts) != 1 or hosts[0].lower() not in ours:
            return Response("This address is served to this machine alone.", 421)
        first = str(scope["path"]).split("/")[1] if str(scope["path"]).startswith("/") else ""
        if not hmac.compare_digest(first.encode("utf-8", "replace"), self._desk.token.encode()):
            return Response("There is nothing here.", 404)
        origins = [value for name, value in heads if name == b"origin"]
        sites = [value for name, value in heads if name == b"sec-fetch-site"]
        ours_too = {f"http://{one}" for one in ours}
        if sites == ["same-origin"]:
            ours_too.add("null")  # what a form says where no referrer may be told
        if any(one not in ours_too for one in origins) or any(one in ("cross-site", "same-site") for one in sites):
            return Response("This was asked from another page.", 403)
        if scope["method"] not in ("GET", "HEAD") and not origins:
            return Response("This was asked from no page.", 403)
        sizes = [value for name, value in heads if name == b"content-length"]
        if any(name == b"transfer-encoding" for name, _ in heads) or (scope["method"] == "POST" and len(sizes) != 1):
            return Response("How long it is has to be said first.", 411)
        if any(not one.isdecimal() or int(one) > MOST_SENT for one in sizes):
            return Response(f"That is over {MOST_SENT // 1_000_000} MB, the most that is taken.", 413)
        return None

    async def _with_headers(
        self, inner: Callable[[Scope, Receive, Send], Awaitable[None]], scope: Scope, receive: Receive, send: Send
    ) -> None:
        async def sending(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                set_already = {bytes(name).lower() for name, _ in message["headers"]}
                message["headers"] = [
                    *message["headers"],
                    *((name, value) for name, value in _HEADERS if name not in set_already),
                ]
            await send(message)

        await inner(scope, receive, sending)


_HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"referrer-policy", b"no-referrer"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


Endpoint = Callable[[Request], Awaitable[Response]]


def _jobs(desk: Desk, fault: str = "", called: str = "") -> Endpoint:
    async def jobs(_: Request) -> Response:
        listed = await run_in_threadpool(jobs_in, desk.folder)
        return HTMLResponse(
            page_html(
                "jobs.html",
                title="Jobs",
                root=desk.root,
                folder=desk.folder.name or str(desk.folder),
                jobs=listed,
                fault=fault,
                called=called,
                begins=BEGINS,
                blanks=BLANKS,
            )
        )

    return jobs


def _new(desk: Desk) -> Endpoint:
    async def new(request: Request) -> Response:
        given = parse_qs((await request.body()).decode("utf-8", "replace"), max_num_fields=10)
        called, begin = given.get("called", [""])[0], given.get("begin", ["wall"])[0]
        try:
            path = await run_in_threadpool(_begin, desk, called, begin)
        except CutmarksError as error:
            return await _jobs(desk, str(error), called)(request)
        return RedirectResponse(f"{desk.root}job/{path.name}", 303)

    return new


def _begin(desk: Desk, called: str, begin: str) -> Path:
    """A new job file, from a starter or from nothing. Raises CutmarksError."""
    of, _, units = begin.partition(" ")
    content = _edited(desk, "begun", called=called, of="floor" if of == "floor" else "wall", units=units or "mm")
    if of == "starter":
        text = decoded(desk.starters(units), "the starter")
        content = _edited(desk, "change", text=text, file="", path=["job"], value=called)
    with desk.lock:
        path = new_job_at(desk.folder, called)
        put(path, None, content.encode())
    return path


def _too_long(error: TookTooLong, words: str = TOO_LONG) -> str:
    minutes, seconds = divmod(round(error.limit), 60)
    return words.format(limit=f"{minutes} minutes" if minutes else f"{seconds} seconds")


def _edited(desk: Desk, action: str, **given: object) -> str:
    """A text that a call gives. Raises OutputError: it cannot be."""
    try:
        answer = desk.workers.ask(ALONE, action, given)
    except TookTooLong as error:
        raise OutputError(_too_long(error)) from error
    except FellOver as error:
        raise OutputError(FELL_OVER) from error
    if "fault" in answer:
        raise OutputError(answer["fault"])
    return str(answer["text"])


async def _static(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in ("page.js", "one.js", "samples.js", "page.css"):
        return Response("There is nothing here.", 404)
    content = (resources.files("cutmarks.desk") / "static" / name).read_bytes()
    return Response(content, media_type=TYPES[name.rpartition(".")[2]])


def _job(desk: Desk) -> Endpoint:
    async def job(request: Request) -> Response:
        name = request.path_params["name"]
        try:
            await run_in_threadpool(desk.job, name)
        except CutmarksError as error:
            answer = await _jobs(desk, str(error))(request)
            answer.status_code = 404
            return answer
        return HTMLResponse(page_html("job.html", title=name, root=desk.root, name=name))

    return job


def _pack(desk: Desk) -> Endpoint:
    async def pack(request: Request) -> Response:
        name, _, file = request.path_params["file"].partition("/-/")
        try:
            content = await run_in_threadpool(lambda: file_of(job_at(desk.folder, name), file))
        except CutmarksError as error:
            return Response(str(error), 404)
        ending = file.rpartition(".")[2]
        heads = {} if ending == "pdf" else {"content-security-policy": SANDBOX}
        if ending not in ("pdf", "html", "svg"):
            heads["content-disposition"] = "attachment"
        return Response(content, media_type=TYPES.get(ending, "application/octet-stream"), headers=heads)

    return pack


def _zip(desk: Desk) -> Endpoint:
    async def zipped(request: Request) -> Response:
        try:
            path = job_at(desk.folder, request.path_params["name"])
            content = await run_in_threadpool(zip_of, path)
        except CutmarksError as error:
            return Response(str(error), 404)
        return Response(content, media_type="application/zip", headers={"content-disposition": "attachment"})

    return zipped


def _shop_zip(desk: Desk) -> Endpoint:
    async def zipped(request: Request) -> Response:
        name = request.path_params["name"]
        made = desk.making.get(f"shop {name}", {})
        try:
            path = job_at(desk.folder, name)
            if not made.get("names"):
                raise OutputError("There is no pack for the shop of this job: make it first.")
            content = await run_in_threadpool(zip_of_shop, path, made["folder"], made["names"])
        except CutmarksError as error:
            return Response(str(error), 404)
        return Response(content, media_type="application/zip", headers={"content-disposition": "attachment"})

    return zipped


def _blank(desk: Desk) -> Endpoint:
    async def blank(request: Request) -> Response:
        name = request.path_params["name"]
        if name not in {name for name, _ in BLANKS}:
            return Response("There is nothing here.", 404)
        return Response(await run_in_threadpool(desk.starters, name), media_type=TYPES["pdf"])

    return blank


def _one(desk: Desk) -> Endpoint:
    async def page(_: Request) -> Response:
        return HTMLResponse(page_html("one.html", title="One tile", root=desk.root))

    return page


def _help(desk: Desk) -> Endpoint:
    async def page(request: Request) -> Response:
        topic = request.path_params["topic"]
        if topic not in desk.help:
            return Response("There is nothing here.", 404)
        text = await run_in_threadpool(desk.help[topic][1])
        topics = {name: about for name, (about, _) in desk.help.items()}
        return HTMLResponse(page_html("help.html", title=topic, root=desk.root, topic=topic, text=text, topics=topics))

    return page


def _do(desk: Desk) -> Endpoint:
    async def do(request: Request) -> Response:
        action, name = request.path_params["action"], request.path_params["name"]
        if request.headers.get("content-type", "").partition(";")[0] != "application/json":
            return Response("JSON is wanted here.", 415)
        try:
            given = json.loads(await request.body())
            if not isinstance(given, dict):
                raise ValueError
        except (ValueError, RecursionError):
            return Response("JSON is wanted here.", 400)
        try:
            answer = await run_in_threadpool(_done, desk, action, name, given)
        except Superseded:
            return JSONResponse({"superseded": True})
        except TookTooLong as error:
            return JSONResponse({"fault": _too_long(error), "too_long": True})
        except FellOver:
            return JSONResponse({"fault": FELL_OVER})
        except (BentCall, *BENT):
            return Response("That cannot be asked.", 400)
        except CutmarksError as error:
            return JSONResponse({"fault": str(error)})
        return JSONResponse(answer)

    return do


def _done(desk: Desk, action: str, name: str, given: dict[str, Any]) -> dict[str, Any]:
    """What a request of the page comes to."""
    if action in ASKED:
        with desk.lock:
            job = desk.job(name)
            asked, version = desk.arguments(job, **given), job.version
        kind, longer = f"{action} {name} {given.get('tab', '')}", bool(given.get("longer"))
        return {**desk.workers.ask(kind, action, asked, longer=longer), "version": version}
    if action in EDITS:
        return _edit(desk, name, action, given)
    if action == "keep":
        return _keep(desk, name, given)
    if action in MADE:
        return _make(desk, action, name, given)
    if action == "making":
        return desk.making.get(f"{given.get('what', 'make')} {name}", {})
    if action == "stop":
        desk.workers.stop(f"{given.get('what', 'make')} {name}")
        return {}
    if action in OF_ONE:
        return desk.workers.ask(f"{action} {given.get('tab', '')}", action, given)
    if action in OF_PRINTERS:
        return _of_printers(desk, action, given)
    with desk.lock:
        job = desk.job(name)
        try:
            return _changed(desk, job, action, given)
        except OutputError:
            desk.open.pop(name, None)  # what stands on the disk counts
            raise


def _changed(desk: Desk, job: OpenJob, action: str, given: dict[str, Any]) -> dict[str, Any]:
    """A change of a job, and its state after it."""
    answer: dict[str, Any] = {}
    match action:
        case "state":
            answer = {"text": _shown(job.text)} if given.get("text") else {}
        case "undo":
            job.undo()
        case "redo":
            job.redo()
        case "save":
            answer = {"unsure": job.save()}
        case "theirs":
            job.take_file()
        case "mine":
            job.keep_mine()
        case "text":
            if given.get("on") != job.version:
                return {"differs": _shown(job.text), **job.state()}
            job.step(_as_typed(str(given["text"]), job.text), "the file's text", "text")
        case _:
            raise KeyError(action)
    return {**answer, **job.state()}


def _edit(desk: Desk, name: str, action: str, given: dict[str, Any]) -> dict[str, Any]:
    """A change that a call makes of the job's text, in a process that can be stopped; and the state after it.

    Nobody waits for it meanwhile. Where another change came between, it is made anew on what stands there then.
    """
    for _ in range(TURNS):
        with desk.lock:
            job = desk.job(name)
            asked, version = desk.arguments(job, **given), job.version
        answer = desk.workers.ask(ALONE, action, asked, longer=bool(given.get("longer")))
        with desk.lock:
            job = desk.job(name)
            if job.version != version:
                continue
            try:
                if "text" in answer:
                    typed = json.dumps(given["path"]) if action == "change" else ""
                    job.step(answer.pop("text"), answer["label"], typed)
                return {**answer, **job.state()}
            except OutputError:
                desk.open.pop(name, None)  # what stands on the disk counts
                raise
    raise OutputError("The job was changed again and again meanwhile: say it once more. Nothing was changed.")


def _shown(text: str) -> str:
    """A text as a box in the browser holds it."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _as_typed(text: str, before: str) -> str:
    """A text out of a box, with the line ends and the mark that the file had."""
    text = text.replace("\r\n", "\n")
    if "\r\n" in before:
        text = text.replace("\n", "\r\n")
    return "\ufeff" + text if before.startswith("\ufeff") else text


def _keep(desk: Desk, name: str, given: dict[str, Any]) -> dict[str, Any]:
    """Keep what was read at the wall, `how` it was shown: it is worked out anew, and must come to the same."""
    how = str(given.get("how", "sent"))
    if how not in KEPT:
        raise KeyError(how)
    with desk.lock:
        job = desk.job(name)
        asked, path = desk.arguments(job, **given), found_path(job.path)
    with one_at_a_time(job.path):
        before = standing(path, MOST_BYTES)
        answer = desk.workers.ask(ALONE, how, asked)
        if "fault" in answer:
            return answer
        if answer["after"] != given["after"] or (how == "sent" and not answer["taken"]):
            return {"fault": "What was kept changed meanwhile: say it here again."}
        unsure = put(path, before, str(answer["after"]).encode())
    said = answer.get("said", f"Kept in {path.name}.")
    with desk.lock:
        return {"kept": f"{said} Make the pack anew.", "unsure": unsure, **desk.job(name).state()}


def _make(desk: Desk, what: str, name: str, given: dict[str, Any]) -> dict[str, Any]:
    """Begin to make the pack of a job as it is saved, or the shop's; how far it is, `making` says."""
    key = f"{what} {name}"
    with desk.lock:
        job = desk.job(name)
        unsure = job.save()
        if desk.making.get(key, {}).get("busy"):
            return {**desk.making[key], **job.state()}
        desk.making[key] = {"busy": True, "done": 0, "count": 0, "said": []}
        asked = desk.arguments(job, **{wish: given[wish] for wish in WISHES if wish in given})
        longer = bool(given.get("longer"))
        threading.Thread(target=_making, args=(desk, what, key, asked, longer), daemon=True).start()
        return {"busy": True, "unsure": unsure, **job.state()}


def _making(desk: Desk, what: str, key: str, asked: dict[str, Any], longer: bool) -> None:
    def told(_: str, done: int, count: int) -> None:
        desk.making[key] = {"busy": True, "done": done, "count": count, "said": []}

    try:
        desk.making[key] = {"busy": False, **desk.workers.ask(key, what, asked, told, longer=longer)}
    except Superseded:
        desk.making[key] = {"busy": False, "fault": "Stopped: what was there is as it was before."}
    except TookTooLong as error:
        desk.making[key] = {"busy": False, "fault": _too_long(error, PACK_TOO_LONG), "too_long": True}
    except FellOver:
        desk.making[key] = {"busy": False, "fault": FELL_OVER}
    except BentCall:
        desk.making[key] = {"busy": False, "fault": OWN_FAULT}


OF_ONE = ("one", "one_pdf")
OF_PRINTERS = ("printers", "test_page", "measured")


def _of_printers(desk: Desk, action: str, given: dict[str, Any]) -> dict[str, Any]:
    """The printers that were measured; a page to measure one by; what was read of it, kept."""
    if action == "printers":
        listed = [(one, str(one.calibration(desk.printers))) for one in known(desk.printers)]
        return {"printers": [{"name": one.printer, "tray": one.tray, "words": words} for one, words in listed]}
    return desk.workers.ask(ALONE, action, {**given, "printers": str(desk.printers)})
