"""cutmarks page: what it says where something is missing, who can reach it, and what it leaves behind."""

from __future__ import annotations

import os
import signal
import socket
import stat
import sys
from pathlib import Path

import pytest

from cutmarks.cli.page import _way_in
from tests.browser.desk import served


def test_without_the_extra_one_sentence_says_what_to_install(run, monkeypatch):
    monkeypatch.setitem(sys.modules, "jinja2", None)
    result = run("page")
    assert result.exit_code == 2
    assert " ".join(result.stderr.split()) == (
        "The page needs a few things that are not installed here: pipx install 'cutmarks[page]', or "
        "pip install 'cutmarks[page]'. Nothing was started."
    )


@pytest.mark.skipif(os.name != "posix", reason="file modes")
def test_the_way_in_is_read_by_nobody_else_and_goes_away():
    with _way_in("http://127.0.0.1:1/token/") as path:
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        text = path.read_text("utf-8")
        assert 'content="0;url=http://127.0.0.1:1/token/"' in text
        assert 'name="referrer" content="no-referrer"' in text
    assert not path.exists()


@pytest.mark.skipif(not Path("/proc/self/cmdline").exists(), reason="looks at /proc")
def test_the_token_stands_in_no_arguments_and_nobody_else_can_reach_it(tmp_path):
    with served(tmp_path) as serving:
        assert len(serving.token) >= 32
        for entry in Path("/proc").iterdir():
            if entry.name.isdecimal():
                try:
                    arguments = (entry / "cmdline").read_bytes()
                except OSError:
                    continue
                assert serving.token.encode() not in arguments
        # What listens at all addresses of a machine listens at every 127.x.x.x as well.
        socket.create_connection(("127.0.0.1", serving.port), 10).close()
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection(("127.0.0.2", serving.port), 10)
        serving.process.send_signal(signal.SIGINT)
        assert serving.process.wait(60) == 0
    assert list(tmp_path.iterdir()) == []


def test_a_port_that_is_taken_is_said(run, tmp_path):
    with served(tmp_path) as serving:
        result = run("page", "--no-browser", "--port", serving.port)
    assert result.exit_code == 2
    assert f"Port {serving.port} cannot be had" in result.stderr
