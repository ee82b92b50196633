"""The table of reports asked for: which server process makes one is settled by one statement."""

from collections.abc import Iterable
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Connection, delete, func, insert, select, update

from skinpin.storage.tables import report_job

WAITING, RUNNING, DONE, FAILED, CANCELLED = "waiting", "running", "done", "failed", "cancelled"
ENDED = (DONE, FAILED, CANCELLED)
_row = report_job.c
_is_open = _row.state.in_((WAITING, RUNNING))


class Asked(NamedTuple):
    """A report that was asked for: who and when, as it is said."""

    id: str
    zone: str
    title: str
    airframe: str
    asked_by: str
    asked_at: str


class Held(NamedTuple):
    """A report as the table has it; `told` is what it is or its trouble."""

    asked: Asked
    state: str
    claimed_by: str | None
    beat: int
    step: list[Any] | None
    told: dict[str, Any]


def add_jobs(
    connection: Connection, asked: Iterable[Asked], state: str = WAITING, told: object = None
) -> None:
    """Add reports behind those that are there; the caller holds the lock of the writers."""
    last = connection.scalar(select(func.max(_row.place))) or 0
    kept = {"claimed_by": None, "beat": 0, "to_end": False, "step": None, "told": _json(told)}
    rows = [
        {**one._asdict(), "place": place, "state": state, **kept}
        for place, one in enumerate(asked, last + 1)
    ]
    connection.execute(insert(report_job), rows)


def list_jobs(connection: Connection, *, only_open: bool = False) -> list[Held]:
    """Return reports, the newest first; `only_open`: those that wait or are being made."""
    asked = select(report_job).order_by(_row.place.desc(), _row.id)
    return [_held(row) for row in connection.execute(asked.where(_is_open) if only_open else asked)]


def find_job(connection: Connection, id: str) -> Held | None:
    """Return one report."""
    row = connection.execute(select(report_job).where(_row.id == id)).first()
    return _held(row) if row else None


def count_open(connection: Connection) -> int:
    """Return how many wait or are being made, in whatever process."""
    return connection.scalar(select(func.count()).select_from(report_job).where(_is_open)) or 0


def claim_job(connection: Connection, process: str) -> Held | None:
    """Take the report that waits longest; of several processes that ask at once one gets it."""
    longest = select(_row.id).where(_row.state == WAITING).order_by(_row.place, _row.id).limit(1)
    one = longest.with_for_update(skip_locked=True).scalar_subquery()
    claimed = update(report_job).where(_row.id == one, _row.state == WAITING)
    values = {"state": RUNNING, "claimed_by": process, "beat": 1}
    row = connection.execute(claimed.values(values).returning(report_job)).first()
    return _held(row) if row else None


def beat_job(connection: Connection, id: str, process: str, step: object) -> bool:
    """Say that a report is still being made, and how far; False: it is to end, or was given up."""
    beaten = update(report_job).where(_row.id == id, _is_made_by(process))
    values = {"beat": _row.beat + 1, "step": _json(step)}
    to_end = connection.scalar(beaten.values(values).returning(_row.to_end))
    return to_end is not None and not to_end


def end_job(connection: Connection, id: str, process: str, state: str, told: object) -> bool:
    """End a report that this process makes; False: it is not this process's any more."""
    return _end(connection, (_row.id == id) & _is_made_by(process), state, told)


def give_up_job(connection: Connection, held: Held, told: object) -> bool:
    """End a report whose process is gone; False: its process went on with it meanwhile."""
    stands = (_row.id == held.asked.id) & _is_made_by(held.claimed_by) & (_row.beat == held.beat)
    return _end(connection, stands, FAILED, told)


def cancel_job(connection: Connection, id: str) -> None:
    """Cancel a report that waits; one that is being made is ended by the process that makes it."""
    _end(connection, (_row.id == id) & (_row.state == WAITING), CANCELLED, None)
    asked = update(report_job).where(_row.id == id, _row.state == RUNNING)
    connection.execute(asked.values(to_end=True))


def ids_to_go(connection: Connection, kept: int) -> list[str]:
    """Return the ended reports that lie behind the newest so many."""
    ended = select(_row.id).where(_row.state.in_(ENDED)).order_by(_row.place.desc(), _row.id)
    return list(connection.scalars(ended.offset(kept)))


def remove_job(connection: Connection, id: str) -> None:
    """Take a report off the table."""
    connection.execute(delete(report_job).where(_row.id == id))


def _is_made_by(process: str | None) -> Any:
    return (_row.state == RUNNING) & (_row.claimed_by == process)


def _end(connection: Connection, which: Any, state: str, told: object) -> bool:
    ended = update(report_job).where(which).values(state=state, step=None, told=_json(told))
    return connection.execute(ended).rowcount == 1


def _held(row: Any) -> Held:
    asked = Asked(row.id, row.zone, row.title, row.airframe, row.asked_by, row.asked_at)
    step, told = (orjson.loads(text) if text else None for text in (row.step, row.told))
    return Held(asked, row.state, row.claimed_by, row.beat, step, told or {})


def _json(value: object) -> str | None:
    return None if value is None else orjson.dumps(value).decode()
