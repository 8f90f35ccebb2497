"""Who may ask, for what, and what is refused: another host, another page, no token, paths that lead out, too much."""

from __future__ import annotations

import io
import json
import random
import re
import zipfile
from pathlib import Path

import pytest

from cutmarks.cli.templates import BLANKS, find_template
from cutmarks.desk.app import MOST_SENT
from cutmarks.desk.making import made as made_by
from cutmarks.desk.places import job_at, jobs_in, new_job_at, pack_of
from cutmarks.errors import OutputError
from tests.desk.asking import HOST, TOKEN, desk_on, do, get, request

ROOT = Path(__file__).parents[2]
LAUNDRY = ROOT / "examples" / "laundry" / "laundry.yaml"
JSON = {"content-type": "application/json", "origin": f"http://{HOST}"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one job, one more in a folder of its own, and what a page must not touch."""
    jobs = tmp_path / "jobs"
    (jobs / "deep").mkdir(parents=True)
    (jobs / "laundry.yaml").write_bytes(LAUNDRY.read_bytes())
    (jobs / "deep" / "inner.yaml").write_text("job: Inner\n")
    (jobs / "tools.yaml").write_text("cores: [20]\n")
    (jobs / "not-a-job.yaml").write_text("a: b\n")
    (tmp_path / "outside.yaml").write_text("job: Outside\n")
    (jobs / "link.yaml").symlink_to(tmp_path / "outside.yaml")
    (jobs / "way").symlink_to(tmp_path, target_is_directory=True)
    return jobs


@pytest.fixture
def desk(folder):
    return desk_on(folder)


def test_the_jobs_of_the_folder_are_listed_and_no_others(desk, folder):
    assert [one.name for one in jobs_in(folder)] == ["laundry.yaml", "deep/inner.yaml"]
    page = get(desk).body.decode()
    assert "Quay Cottage, laundry" in page
    assert "Outside" not in page


def test_the_sheets_to_fill_in_on_site_are_handed_out_and_nothing_else_of_their_folder(desk):
    names = re.findall(r'blank/([^"]+)"', get(desk).body.decode())
    assert sorted(names) == sorted(BLANKS)
    for name in names:
        assert get(desk, f"blank/{name}").body == find_template(name).read_bytes()
    for name in ("wall.yaml", "..%2fwall.yaml", "nothing.pdf"):
        assert get(desk, f"blank/{name}").status == 404


def test_each_answer_says_what_a_browser_may_do_with_it(desk):
    for answer in (get(desk), get(desk, "static/page.js"), request(desk, "GET", "/"), get(desk, "nothing")):
        policy = answer.heads["content-security-policy"]
        assert policy.startswith("default-src 'none'; script-src 'self'; style-src 'self'")
        assert "unsafe" not in policy
        assert answer.heads["referrer-policy"] == "no-referrer"
        assert answer.heads["x-content-type-options"] == "nosniff"
        assert answer.heads["cache-control"] == "no-store"


@pytest.mark.parametrize("path", ["/", f"/{TOKEN[:-1]}/", f"/{TOKEN}x/", "/job/laundry.yaml", f"//{TOKEN}/", "/%61/"])
def test_without_the_token_there_is_nothing(desk, path):
    answer = request(desk, "GET", path)
    assert (answer.status, answer.body) == (404, b"There is nothing here.")


@pytest.mark.parametrize(
    "host", ["example.invalid", "127.0.0.1", "127.0.0.1:8001", "localhost.example.invalid:8000", ""]
)
def test_another_host_name_is_refused(desk, host):
    assert get(desk, host=host).status == 421


@pytest.mark.parametrize(
    "heads",
    [
        {"origin": "http://example.invalid"},
        {"origin": "null"},
        {"origin": f"https://{HOST}"},
        {"origin": "http://127.0.0.1:8001"},
        {"sec-fetch-site": "cross-site", "origin": f"http://{HOST}"},
        {"sec-fetch-site": "cross-site", "origin": "null"},
        {},
    ],
)
def test_another_page_can_change_nothing(desk, folder, heads):
    body = json.dumps({"path": ["units"], "value": "cm"}).encode()
    wanted = {"content-type": "application/json", **heads}
    assert request(desk, "POST", f"/{TOKEN}/do/change/laundry.yaml", wanted, body).status == 403
    assert sorted(one.name for one in folder.iterdir() if one.name.startswith(".")) == []


def test_a_form_of_another_kind_is_no_call(desk):
    heads = {"content-type": "text/plain", "origin": f"http://{HOST}"}
    assert request(desk, "POST", f"/{TOKEN}/do/save/laundry.yaml", heads, b"{}").status == 415


LEADING_OUT = (
    "../outside.yaml",
    "..%2foutside.yaml",
    "link.yaml",
    "way/outside.yaml",
    "way/jobs/laundry.yaml",
    "/etc/passwd",
    "laundry.yaml/",
    "deep/../laundry.yaml",
    "./laundry.yaml",
    ".laundry.yaml.draft",
    "deep/.hidden.yaml",
    "laundry.yaml\x00",
    "C:\\laundry.yaml",
    "deep\\inner.yaml",
    "deep",
    "",
    "a" * 5000 + ".yaml",
)


@pytest.mark.parametrize("name", LEADING_OUT)
def test_no_name_leads_out_of_the_folder(desk, folder, name):
    with pytest.raises(OutputError, match="no job of this folder"):
        job_at(folder, name)
    for action in ("state", "save", "form", "make"):
        answer = request(desk, "POST", f"/{TOKEN}/do/{action}/{name}", JSON, b"{}")
        assert answer.status in (200, 404)
        assert b"Outside" not in answer.body
        assert answer.status == 404 or "fault" in answer.json
    assert request(desk, "GET", f"/{TOKEN}/job/{name}").status == 404


def test_too_much_is_refused_before_it_is_read(desk):
    heads = {**JSON, "content-length": str(50_000_000)}
    assert request(desk, "POST", f"/{TOKEN}/do/text/laundry.yaml", heads, b"").status == 413
    assert (
        request(desk, "POST", f"/{TOKEN}/do/text/laundry.yaml", {**JSON, "transfer-encoding": "chunked"}).status == 411
    )
    body = json.dumps({"text": "a" * (MOST_SENT - 1000), "on": ""}).encode()
    assert request(desk, "POST", f"/{TOKEN}/do/text/laundry.yaml", JSON, body).status == 200
    on = do(desk, "state", "laundry.yaml")["version"]
    assert "over 2 MB" in do(desk, "text", "laundry.yaml", text="a" * 2_000_001, on=on)["fault"]


def test_new_jobs_never_take_the_place_of_another(desk, folder):
    assert new_job_at(folder, "Laundry").name == "laundry-2.yaml"
    assert new_job_at(folder, "../../x").parent == folder
    assert new_job_at(folder, "ÄÖ: hot/cold").suffix == ".yaml"
    heads = {"content-type": "application/x-www-form-urlencoded", "origin": f"http://{HOST}"}
    for begin, says in (
        ("wall", "kind: wall"),
        ("floor", "kind: floor"),
        ("starter inch", "units: in"),
        ("wall in", "units: in"),
    ):
        body = f"called=Reed+{begin.replace(' ', '+')}&begin={begin.replace(' ', '+')}".encode()
        answer = request(desk, "POST", f"/{TOKEN}/new", heads, body)
        assert answer.status == 303
        made = folder / answer.heads["location"].rpartition("/")[2]
        assert says in made.read_text("utf-8")
    answer = request(desk, "POST", f"/{TOKEN}/new", heads, b"called=%3Cb%3E&begin=wall")
    assert b"a name has no markup" in answer.body
    assert b"<b>" not in answer.body


def test_what_a_job_says_is_text_wherever_it_stands(desk, folder):
    hostile = "</script><script>x()</script>"
    (folder / "odd.yaml").write_text(
        f"job: '{hostile}'\ntiles: {{'{hostile}': {{size: 2 x 3}}}}\n"
        f"surfaces:\n  - name: '{hostile}'\n    kind: '{hostile}'\n"
        f"    '{hostile}': '{hostile}'\n    holes: ['{hostile}, 15 copper', {{name: '{hostile}', what: '{hostile}'}}]\n"
    )
    for html in (
        get(desk).body.decode(),
        get(desk, "job/odd.yaml").body.decode(),
        do(desk, "form", "odd.yaml")["html"],
    ):
        assert "<script>x" not in html
    assert "&lt;/script&gt;" in do(desk, "form", "odd.yaml")["html"]


def test_the_files_of_a_pack_are_handed_out_as_they_were_written_and_nothing_else(desk, folder):
    job = folder / "laundry.yaml"
    made = made_by("make", {"file": str(job)}, lambda *_: None)
    assert made["folder"] == "laundry-pack"
    pdf = get(desk, "pack/laundry.yaml/-/pack.pdf")
    assert (pdf.status, pdf.heads["content-type"], pdf.body[:5]) == (200, "application/pdf", b"%PDF-")
    page = get(desk, "pack/laundry.yaml/-/wall.html")
    assert page.heads["content-security-policy"].startswith("sandbox allow-scripts")
    assert "allow-same-origin" not in page.heads["content-security-policy"]
    (pack_of(job) / "mine.html").write_text("mine")
    (pack_of(job) / "holes.csv").write_text("changed")
    for name in (
        "mine.html",
        "holes.csv",
        "../laundry.yaml",
        "../../outside.yaml",
        "sheets",
        "",
        "sheets/../plan.json",
    ):
        assert get(desk, f"pack/laundry.yaml/-/{name}").status == 404, name
    names = zipfile.ZipFile(io.BytesIO(get(desk, "zip/laundry.yaml").body)).namelist()
    assert "laundry-pack/pack.pdf" in names
    assert not {"laundry-pack/mine.html", "laundry-pack/holes.csv"} & set(names)
    assert get(desk, "zip/deep/inner.yaml").status == 404


def mutated(source: random.Random) -> tuple[str, str, dict[str, str], bytes]:
    """A request that is none that the page sends: its parts bent, mixed and cut."""
    actions = [
        "change",
        "add",
        "remove",
        "rename",
        "text",
        "undo",
        "take",
        "keep",
        "state",
        "theirs",
        "stop",
        "making",
        "near",
        "told",
        "frees",
        "found",
        "taken_back",
        "starts_page",
        "test_page",
        "measured",
        "printers",
        "x",
    ]
    odd: list[object] = [
        None,
        0,
        -1,
        1e308,
        True,
        "",
        "a",
        "\ud800",
        "../x",
        "<b>",
        "?" * 300,
        [],
        {},
        [0],
        ["surfaces"],
        ["surfaces", 0],
        ["surfaces", 0, "holes", 0],
        ["surfaces", 10**9],
        ["tiles", "rib"],
        [["a"]],
        {"a": {}},
        "job: x",
        "\x00",
    ]
    keys = [
        "path",
        "value",
        "was",
        "kind",
        "name",
        "said",
        "of",
        "text",
        "on",
        "surface",
        "number",
        "sent",
        "after",
        "keys",
        "file",
        "tools",
        "rule",
        "about",
        "reason",
        "what",
        "how",
        "entry",
        "piece",
        "hole",
        "paper",
        "printer",
        "printers",
        "today",
    ]
    given = {source.choice(keys): source.choice(odd) for _ in range(source.randrange(6))}
    body = json.dumps(given).encode() if source.random() < 0.85 else source.randbytes(source.randrange(60))
    name = source.choice(["laundry.yaml", "laundry.yaml", "laundry.yaml", *LEADING_OUT])
    path = f"/{source.choice([TOKEN] * 9 + ['x'])}/do/{source.choice(actions)}/{name}"
    heads = dict(JSON) if source.random() < 0.9 else {}
    return source.choice(["POST"] * 9 + ["GET", "PUT"]), path, heads, body


def test_bent_requests_are_answered_and_nothing_outside_is_touched(desk, folder):
    """A slice; python -m tests.bench.desk_campaign makes a thousand."""
    before = (folder.parent / "outside.yaml").read_bytes()
    job = (folder / "laundry.yaml").read_bytes()
    source = random.Random(14)
    for _ in range(60):
        method, path, heads, body = mutated(source)
        answer = request(desk, method, path, heads, body)
        assert answer.status < 500, (method, path, body)
    assert (folder.parent / "outside.yaml").read_bytes() == before
    assert (folder / "laundry.yaml").read_bytes() == job
    assert {one.name for one in folder.iterdir()} <= {
        "laundry.yaml", "deep", "tools.yaml", "not-a-job.yaml", "link.yaml", "way", ".laundry.yaml.draft",
        "laundry.found.yaml",
    }  # fmt: skip
