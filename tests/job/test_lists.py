"""Holes from a CSV list in the job's folder."""

from __future__ import annotations

import cProfile
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job import Job, load_job, parse_job
from tests.job.jobs import WALL, changed

ROWS = "name,what,across,up,cover\ncold,15 copper,67 to 83 right of V,level with hot,65\n"


def load(folder: Path, content: str | bytes, name: str = "pipes.csv", listed: str = "pipes.csv") -> Job:
    (folder / "job.yaml").write_text(changed("    holes:\n", f"    holes list: {listed}\n    holes:\n"))
    if isinstance(content, bytes):
        (folder / name).write_bytes(content)
    else:
        (folder / name).write_text(content)
    return load_job(folder / "job.yaml")


def refused(folder: Path, content: str | bytes, listed: str = "pipes.csv") -> list[str]:
    with pytest.raises(JobError) as error:
        load(folder, content, listed=listed)
    return [str(fault) for fault in error.value.faults]


@pytest.mark.parametrize(
    "content",
    [
        ROWS,
        ROWS.replace(",", ";").encode("utf-8-sig").replace(b"\n", b"\r\n"),
        ROWS.replace(",", "\t"),
        "Name, What ,ACROSS,up,cover\n\ncold,15 copper,67 to 83 right of V,level with hot,65\n,,,,\n",
    ],
)
def test_the_list_stands_behind_the_jobs_own_holes(tmp_path, content):
    job = load(tmp_path, content)
    hot, cold = job.surfaces[0].holes
    assert (hot.name, cold.name, cold.cover) == ("hot", "cold", 65)
    assert cold.across is not None
    assert (cold.across.low, cold.across.high) == (67, 83)


def test_faults_name_the_list_and_its_line(tmp_path):
    rows = "name,across,up\ncold,75 right of V,20 to 35 above B\nhot,20 to 35 right of V,20 to 35 above B\n,on V,\n"
    assert refused(tmp_path, rows) == [
        'pipes.csv line 2, hole "cold", across: "75 right of V" does not say to what: write "centre 75 right of V", '
        '"near 75 right of V" or "far 75 right of V", or both sides, as in "67 to 83 right of V".',
        'pipes.csv line 3, hole "hot", name: Two holes are called "hot" (the first is on "sink wall", in line 17): '
        "give each a name of its own.",
        'pipes.csv line 4, hole 4: "name" is missing: write name: and a word for it.',
    ]


def test_later_stages_find_the_line_of_the_list(tmp_path):
    job = load(tmp_path, ROWS)
    assert str(job.fault(job.surfaces[0].holes[1].where, "x", "Odd.")) == "pipes.csv line 2, x: Odd."


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        ("name,acros\n", 'pipes.csv line 1, header: "acros" is no key here: did you mean across?'),
        ("name,plate\n", 'pipes.csv line 1, header: "plate" is no key here: write cover.'),
        ("name,up,up\n", 'pipes.csv line 1, header: "up" heads two columns: keep one.'),
        ("", "pipes.csv line 1: This list has no header: write name, what, across, up, cover in its first line."),
        (
            "name,across\ncold,74,5 right of V\n",
            "pipes.csv line 2: This row has 3 cells under 2 headings: put a cell that has a comma in quotes, "
            "and write a decimal with a point.",
        ),
    ],
)
def test_the_lists_own_faults(tmp_path, content, fault):
    assert fault in refused(tmp_path, content)


@pytest.mark.parametrize(
    "listed", ["../pipes.csv", "/etc/passwd", "a/../../pipes.csv", "'..\\pipes.csv'", "'C:pipes.csv'"]
)
def test_no_path_leads_out_of_the_folder(tmp_path, listed):
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "pipes.csv").write_text(ROWS)
    assert refused(inner, ROWS, listed) == [
        f'job.yaml line 15, surface "sink wall", holes list: "{listed.strip(chr(39))}" leads out of the job\'s folder: '
        "put the list beside the job and write its name, as in pipes.csv."
    ]


def test_no_link_leads_out_of_the_folder(tmp_path):
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "secret.csv").write_text(ROWS)
    (inner / "linked.csv").symlink_to(tmp_path / "secret.csv")
    assert "leads out of the job's folder" in refused(inner, ROWS, "linked.csv")[0]


def test_a_list_that_is_not_there_or_too_big(tmp_path):
    assert refused(tmp_path, ROWS, "tubes.csv") == [
        'job.yaml line 15, surface "sink wall", holes list: "tubes.csv": This list is not there: '
        "write the path of a file."
    ]
    with (tmp_path / "big.csv").open("wb") as file:
        file.truncate(100_000_000)
    assert refused(tmp_path, ROWS, "big.csv") == [
        'job.yaml line 15, surface "sink wall", holes list: "big.csv": This list is over 20 MB, the most that is read.'
    ]


def test_a_text_has_no_folder_for_a_list():
    with pytest.raises(JobError) as error:
        parse_job(changed("    holes:\n", "    holes list: pipes.csv\n    holes:\n"))
    assert str(error.value).endswith(
        "A list needs a job file on the disk: load the job from its file, or write its holes under holes."
    )


def long_list(count: int) -> str:
    rows = [
        f"p{n},15 copper,{67 + 9 * n} to {83 + 9 * n} right of V,{212 + n % 400} to {228 + n % 400} above B,65"
        for n in range(count)
    ]
    return "\n".join(["name,what,across,up,cover", *rows])


def test_a_row_costs_as_much_work_in_a_long_list_as_in_a_short_one(tmp_path):
    load(tmp_path, long_list(10))  # what is done once is done

    def calls(count: int) -> int:
        profile = cProfile.Profile()
        profile.runcall(load, tmp_path, long_list(count))
        return sum(one.callcount for one in profile.getstats())

    few, some, many = calls(100), calls(200), calls(800)
    # 600 rows more may take at most a tenth more calls a row than 100 rows more did: 6.6 times.
    assert many - some < 6.6 * (some - few)


def test_ten_thousand_rows_are_all_there(tmp_path):
    job = load(tmp_path, long_list(10_000))
    assert len(job.surfaces[0].holes) == 10_001
    last = job.surfaces[0].holes[-1]
    # By hand: 67 + 9 x 9999 = 90058.
    assert last.across is not None
    assert last.across.low == 90_058
    assert len(job.assumed) == 1


def test_the_job_alone_is_good():
    assert parse_job(WALL).surfaces[0].holes_list == ""
