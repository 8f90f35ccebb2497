"""Requests that no page sends, and a server that is killed at any moment: `python -m tests.bench.desk_campaign`.

--requests 1000 --seed 1   bent requests: none ends in an error of ours, none touches a file outside
--kills 20                 a server killed while fields are typed into: what was answered as kept is kept
--upload 50                so many MB sent to a server: refused, and never held
"""

from __future__ import annotations

import argparse
import http.client
import json
import random
import shutil
import socket
import tempfile
import threading
import time
from pathlib import Path

from cutmarks.desk.drafts import opened
from tests.browser.desk import Served, served
from tests.desk.asking import desk_on, request
from tests.desk.test_app import LAUNDRY, mutated


def bent_requests(count: int, seed: int) -> int:
    """How many bent requests were answered wrongly, or touched what they must not."""
    wrong = 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / "jobs"
        folder.mkdir()
        shutil.copy(LAUNDRY, folder)
        outside = Path(made) / "outside.yaml"
        outside.write_text("job: Outside\n")
        (folder / "link.yaml").symlink_to(outside)
        (folder / "way").symlink_to(Path(made), target_is_directory=True)
        before = (folder / "laundry.yaml").read_bytes()
        desk, source = desk_on(folder), random.Random(seed)
        statuses: dict[int, int] = {}
        for number in range(count):
            method, path, heads, body = mutated(source)
            answer = request(desk, method, path, heads, body)
            statuses[answer.status] = statuses.get(answer.status, 0) + 1
            if answer.status >= 500 or b"Outside" in answer.body:
                wrong += 1
                print(f"{number}: {answer.status} {method} {path!r} {body!r}")
        touched = outside.read_text() != "job: Outside\n" or (folder / "laundry.yaml").read_bytes() != before
        strange = {one.name for one in Path(made).iterdir()} - {"jobs", "outside.yaml"}
        print(f"{count} bent requests: {wrong} wrong, answers {statuses}, touched outside: {touched or bool(strange)}")
        return wrong + touched + bool(strange)


def killed(count: int, seed: int) -> int:
    """How many changes were lost of those that were answered as kept, over so many kills."""
    source, lost, kept_in_all = random.Random(seed), 0, 0
    for _ in range(count):
        with tempfile.TemporaryDirectory() as made:
            folder = Path(made)
            shutil.copy(LAUNDRY, folder / "laundry.yaml")
            with served(folder) as serving:
                answered: list[str] = []
                typing = threading.Thread(target=_type, args=(serving, answered))
                typing.start()
                while not answered and typing.is_alive():
                    time.sleep(0.005)
                time.sleep(source.uniform(0.0, 1.0))
                serving.kill()
                typing.join()
            text = opened(folder / "laundry.yaml").text
            kept_in_all += len(answered)
            # The one that was on its way may be kept or not; each that was answered has to be.
            number = int(text.split("note: kept ")[1].split()[0]) if "note: kept " in text else 0
            lost += bool(answered) and number < int(answered[-1])
            assert "job: Quay Cottage, laundry" in text
    print(f"{count} kills, {kept_in_all} changes answered as kept: {lost} lost")
    return lost


def uploaded(megabytes: int) -> int:
    """How many uploads that are too large were not refused, or took room: its length said, unsaid, or said wrongly."""
    wrong = 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        shutil.copy(LAUNDRY, folder / "laundry.yaml")
        before = {one.name: one.read_bytes() for one in folder.iterdir()}
        with served(folder) as serving:
            size = megabytes * 1_000_000
            for name, length, wanted in (("said", size, 413), ("unsaid", None, 411), ("said as 1,000", 1000, 400)):
                began = _resident(serving.process.pid)
                status, sent = _upload(serving, size, length)
                grown = _resident(serving.process.pid) - began
                wrong += status != wanted or grown > MOST_GROWN
                figures = f"{sent / 1e6:.1f} MB taken, {grown / 1e6:.1f} MB grown"
                print(f"{megabytes} MB, length {name}: answered {status}, {figures}")
        wrong += {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()} != before
    return wrong


MOST_GROWN = 20_000_000
"""A server may hold so much more after an upload that it refused, bytes."""


def _resident(process: int) -> int:
    pages = Path(f"/proc/{process}/statm").read_text().split()[1]
    return int(pages) * 4096


def _upload(serving: Served, size: int, length: int | None) -> tuple[int, int]:
    """What is answered to so many bytes, and how many of them were taken before it was."""
    head = [
        f"POST /{serving.token}/do/text/laundry.yaml HTTP/1.1",
        f"Host: 127.0.0.1:{serving.port}",
        f"Origin: http://127.0.0.1:{serving.port}",
        "Content-Type: application/json",
        "Transfer-Encoding: chunked" if length is None else f"Content-Length: {length}",
    ]
    chunk, sent, answer = b"a" * 65_536, 0, b""
    with socket.create_connection(("127.0.0.1", serving.port), 60) as asking:
        asking.sendall("\r\n".join([*head, "", ""]).encode())
        try:
            while sent < size:
                asking.sendall(f"{len(chunk):x}\r\n".encode() + chunk + b"\r\n" if length is None else chunk)
                sent += len(chunk)
        except OSError:
            pass  # it hung up
        try:
            answer = asking.recv(64)
        except OSError:
            answer = b"HTTP/1.1 0 "
    return int(answer.split()[1]) if answer else 0, sent


def _type(serving: Served, answered: list[str]) -> None:
    number = 0
    while True:
        number += 1
        body = json.dumps({"path": ["note"], "value": f"kept {number}"})
        heads = {"content-type": "application/json", "origin": f"http://127.0.0.1:{serving.port}"}
        asking = http.client.HTTPConnection("127.0.0.1", serving.port, timeout=30)
        try:
            asking.request("POST", f"/{serving.token}/do/change/laundry.yaml", body, heads)
            answer = asking.getresponse()
            if answer.status == 200 and "fault" not in json.loads(answer.read()):
                answered.append(str(number))
        except (OSError, http.client.HTTPException):
            return
        finally:
            asking.close()


def main() -> int:
    """Run both; 1 where anything failed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--requests", type=int, default=1000)
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--upload", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    wrong = bent_requests(given.requests, given.seed) + killed(given.kills, given.seed) + uploaded(given.upload)
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
