"""Many records, one a line, to the lines of `auditor claims`: in one process, or whole shards in several.

Results come in the order of the file, whatever the number of workers, and are the same lines. Memory stays bounded:
the file is read as it is needed, and only so many shards are under way as keep every worker busy.
"""

import json
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import cache
from itertools import islice
from multiprocessing import get_context
from typing import Any, NamedTuple

from auditor.audit import Audit
from auditor.contract import claims_line, origin_line
from auditor.own_rules import audited
from claims.own_packs import known_packs
from claims.pack import Pack
from extractors.errors import UnreadableListing
from extractors.formats.json_record import record
from extractors.intake import lines

SHARD_RECORDS = 200
SHARD_BYTES = 1_000_000
SHARDS_A_WORKER = 2
"""Shards under way for each worker: one being read and one that waits."""


class Outcome(NamedTuple):
    """What became of one record: its line of output, or a complaint in words where it could not be read."""

    line: str = ""
    complaint: str = ""


class _Shard(NamedTuple):
    """Records that lie together in a file: (line number, bytes) each, then perhaps why reading the file ended early."""

    name: str
    records: tuple[tuple[int, bytes], ...]
    complaint: str = ""


def claims_of_records(file: str, packs: Sequence[Pack], workers: int = 1) -> Iterator[Outcome]:
    """The outcome of every record of a JSON-lines file (`-`: standard input), in order; `packs` are known ones."""
    if workers > 1:
        yield from _in_processes(file, packs, workers)
        return
    try:
        for number, line in lines(file):
            yield _outcome(line, f"{file} line {number}", packs)
    except UnreadableListing as error:
        yield Outcome(complaint=str(error))


def beliefs_of_records(file: str, packs: Sequence[Pack]) -> Iterator[Outcome]:
    """The same for the lines of `auditor origin`, in one process."""
    try:
        for number, line in lines(file):
            yield _outcome(line, f"{file} line {number}", packs, origin_line)
    except UnreadableListing as error:
        yield Outcome(complaint=str(error))


def _outcome(line: bytes, where: str, packs: Sequence[Pack], made: Callable[[Audit], dict[str, Any]] = claims_line) -> Outcome:
    try:
        return Outcome(json.dumps(made(audited(record(line, where), packs))))
    except UnreadableListing as error:
        return Outcome(complaint=str(error))
    except Exception as error:
        return Outcome(complaint=f"{where}: the tool failed on this record ({type(error).__name__}: {error}); please report it")


def _shards(file: str) -> Iterator[_Shard]:
    """The records of a file in shards bounded in number and size."""
    held: list[tuple[int, bytes]] = []
    size = 0
    complaint = ""
    try:
        for number, line in lines(file):
            held.append((number, line))
            size += len(line)
            if len(held) >= SHARD_RECORDS or size >= SHARD_BYTES:
                yield _Shard(file, tuple(held))
                held, size = [], 0
    except UnreadableListing as error:
        complaint = str(error)
    if held or complaint:
        yield _Shard(file, tuple(held), complaint)


def _in_processes(file: str, packs: Sequence[Pack], workers: int) -> Iterator[Outcome]:
    waiting = _shards(file)
    pool = ProcessPoolExecutor(workers, mp_context=get_context("spawn"))
    pack_ids = tuple(p.id for p in packs)
    under_way: deque[tuple[_Shard, Future[list[Outcome]]]] = deque()
    try:
        while True:
            for shard in islice(waiting, workers * SHARDS_A_WORKER - len(under_way)):
                under_way.append((shard, pool.submit(_read, shard, pack_ids)))
            if not under_way:
                return
            shard, future = under_way.popleft()
            yield from future.result()
    except BrokenProcessPool:
        first = f"line {shard.records[0][0]}" if shard.records else "its end"
        yield Outcome(
            complaint=f"{file}: a worker process ended by itself (out of memory?); nothing from {first} on was read: "
            "give those lines again with fewer --workers"
        )
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


@cache
def _chosen(pack_ids: tuple[str, ...]) -> tuple[Pack, ...]:
    """The packs of a worker process."""
    return tuple(p for p in known_packs().packs if p.id in pack_ids)


def _read(shard: _Shard, pack_ids: tuple[str, ...]) -> list[Outcome]:
    found = [_outcome(line, f"{shard.name} line {number}", _chosen(pack_ids)) for number, line in shard.records]
    return [*found, Outcome(complaint=shard.complaint)] if shard.complaint else found
