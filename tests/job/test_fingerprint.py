"""The fingerprint changes with what was read, and with nothing else."""

from __future__ import annotations

import hashlib

import pytest

from cutmarks.job import fingerprint, load_job
from tests.job.jobs import WALL, changed, job


def test_it_is_the_head_of_a_sha_256():
    read = job(WALL)
    digits = fingerprint(read)
    assert len(digits) == 8
    # The canonical JSON written out by hand: keys sorted, no blanks, every scalar the text that was typed.
    canonical = (
        '{"job":{"job":"Quay Cottage, laundry","surfaces":[{"areas":[{"joint":"3","name":"splash",'
        '"start":{"across":"joint on V","up":"sits on B"},"tile":"rib"}],"holes":[{"across":"67 to 83 left of V",'
        '"cover":"65","end":"comes off","name":"hot","up":"212 to 228 above B","what":"15 copper"}],"kind":"wall",'
        '"lines":{"B":"level, top of the packers","V":"plumb, middle of the sink"},"name":"sink wall"}],'
        '"tiles":{"rib":{"measured":"yes","size":"297 x 97","thickness":"9"}}},"tools":null}'
    )
    assert digits == hashlib.sha256(canonical.encode()).hexdigest()[:8]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("cover: 65", "cover:   65     # the rose"),
        ("cover: 65", 'cover: "65"'),
        ("67 to 83 left of V", "67  to  83  left of V"),
        ("job: Quay", "# ours\n\njob: Quay"),
        ("{across: joint on V, up: sits on B}", "{up: sits on B, across: joint on V}"),
    ],
)
def test_remarks_order_blanks_and_quotes_do_not_count(old, new):
    assert fingerprint(job(changed(old, new))) == fingerprint(job(WALL))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("cover: 65", "cover: 66"),
        ("V: plumb, middle of the sink", "V: plumb, middle of the tap"),
        ("cover: 65", "cover: 65\n        note: hot side"),
        ("name: hot", "name: cold"),
    ],
)
def test_what_was_read_counts(old, new):
    assert fingerprint(job(changed(old, new))) != fingerprint(job(WALL))


def test_lists_and_tools_count(tmp_path):
    path = tmp_path / "job.yaml"
    path.write_text(changed("    holes:\n", "    holes list: pipes.csv\n    holes:\n"))
    rows = "name,across,up\ncold,67 to 83 right of V,2 to 17 above B\n"
    (tmp_path / "pipes.csv").write_text(rows)
    first = fingerprint(load_job(path))
    (tmp_path / "pipes.csv").write_text(rows.replace("83", "84"))
    second = fingerprint(load_job(path))
    (tmp_path / "tools.yaml").write_text("cores: 20, 28\n")
    third = fingerprint(load_job(path))
    assert len({first, second, third}) == 3
    assert fingerprint(load_job(path)) == third
