"""A slice of the campaign of faults: errors at one call after another, here in this process and there in the kernel."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from cutmarks.errors import OutputError
from cutmarks.writers.folder_record import MARKER
from tests.bench import fault_campaign
from tests.bench.faults import Scene, calls_of, faults_of, tried
from tests.writers.folders import (
    JOB,
    NEW,
    OLD,
    OVER,
    child,
    contents,
    disturbed_at,
    needs_fork,
    publish,
    with_own_files,
)

REFUSED = 5
"""How the process ends in which the output was refused."""


@needs_fork
@pytest.mark.usefixtures("unsynced")
@pytest.mark.parametrize(
    ("error", "first"),
    [
        (OSError(errno.EIO, os.strerror(errno.EIO)), 0),
        (PermissionError(errno.EACCES, os.strerror(errno.EACCES)), 1),
        (KeyboardInterrupt(), 2),
    ],
)
def test_an_error_at_any_call_leaves_one_whole_output_and_the_next_run_works(
    tmp_path: Path, error: BaseException, first: int
) -> None:
    """Every fourth call in turn; what is said is true, and what is left beside is gone after the next run."""
    step, said = first, set()
    while True:
        step += 4
        out = tmp_path / f"{step}" / "quay"
        out.parent.mkdir()
        mine = with_own_files(out)

        def fail() -> None:
            raise error

        def run(out: Path = out) -> None:
            try:
                publish(out, JOB, NEW)
            except (OutputError, KeyboardInterrupt):
                os._exit(REFUSED)

        ended = os.waitstatus_to_exitcode(child(disturbed_at(step, fail, run)))
        found = {name: data for name, data in contents(out).items() if name != MARKER}
        said.add(ended)
        assert found == ({**OLD, **mine} if ended == REFUSED else {**NEW, **mine}), f"at step {step}"
        publish(out, JOB, NEW)
        assert contents(out) == {**NEW, **mine}, f"at step {step}"
        assert os.listdir(out.parent) == ["quay"], f"at step {step}"
        if ended == OVER:
            break
    assert step > 80
    assert said == {0, REFUSED, OVER}


@pytest.fixture(scope="module")
def strace() -> None:
    """What the campaign's faults come from."""
    if shutil.which("strace") is None:
        pytest.skip("there is no strace here")
    if subprocess.run(["strace", "-o", os.devnull, "true"], capture_output=True, check=False).returncode:
        pytest.skip("strace may not trace here")


@pytest.mark.usefixtures("strace")
@pytest.mark.parametrize("scene", fault_campaign.scenes(), ids=lambda scene: scene.name)
def test_a_slice_of_the_campaign_holds(scene: Scene, tmp_path: Path) -> None:
    template = tmp_path / "scene"
    template.mkdir()
    scene.prepare(template)
    faults = faults_of(scene, calls_of(scene, template))
    slice_of_all = faults[:: max(1, len(faults) // 4)]
    assert len(slice_of_all) >= 4
    assert [sentence for fault in slice_of_all if (sentence := tried(scene, template, fault))] == []


@pytest.mark.usefixtures("strace")
def test_the_campaign_sees_what_does_not_hold(tmp_path: Path) -> None:
    """A command that leaves half an output where it is refused a call is found out."""
    honest = fault_campaign.scenes()[1]
    template = tmp_path / "scene"
    template.mkdir()
    honest.prepare(template)
    fault = next(fault for fault in faults_of(honest, calls_of(honest, template)) if fault.what == "SIGKILL")
    (template / "out" / "notes.txt").unlink()
    assert "notes.txt of the user's is not there" in tried(honest, template, fault)
