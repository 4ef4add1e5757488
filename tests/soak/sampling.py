"""What a running server holds: memory, threads and handles by the work of its processes, and the size of its files."""

from __future__ import annotations

from pathlib import Path

from tests.bench.idle import family, helps

# In the order in which the supervisor starts them; whatever it starts later is another door of the certificate page.
STARTED = ("http", "https", "worker")
DOOR = "door"
ROLES = ("supervisor", *STARTED, DOOR, "helper")
JUDGED = ("supervisor", *STARTED)  # helpers come with the work and go after it
MEASURES = ("memory_mb", "threads", "handles")
FILES = {
    "database_mb": "witnessmark.db",
    "wal_mb": "witnessmark.db-wal",
    "queue_mb": "tasks.db",
    "log_mb": "server.log",
}
COLUMNS = ("seconds", *(f"{role} {measure}" for role in ROLES for measure in MEASURES), *FILES, "requests", "errors")


def sample(server: int, data: Path) -> dict[str, float]:
    """One line of the table without its time and counts. `server` is the supervisor's process."""
    line = {name: 0.0 for name in COLUMNS}
    roles = _roles(server)
    for process, role in roles.items():
        try:
            held = (own_megabytes(process), _count(process, "task"), _count(process, "fd"))
        except (FileNotFoundError, ProcessLookupError):
            continue  # it has just gone
        for measure, value in zip(MEASURES, held, strict=True):
            line[f"{role} {measure}"] += value
    for column, name in FILES.items():
        file = data / name
        line[column] = file.stat().st_size / 1e6 if file.exists() else 0.0
    return line


def own_megabytes(process: int) -> float:
    """What a process has written to memory, what it shares with a parent or child divided between them.

    Pages of files are left out: the share of them that falls to a process rises when any other program that used the
    same library ends, and the kernel takes them back when it wants.
    """
    lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()[1:]
    kilobytes = {line.split(":")[0]: int(line.split()[1]) for line in lines}
    return (kilobytes["Pss_Anon"] + kilobytes["Pss_Shmem"]) * 1024 / 1e6


def _roles(server: int) -> dict[int, str]:
    """Each process of the tree with its work: what the supervisor started gives its name to all below it."""
    roles = {server: "supervisor"}
    children = [process for process in family(server) if process != server and _parent(process) == server]
    for number, child in enumerate(sorted(children)):
        name = STARTED[number] if number < len(STARTED) else DOOR
        for process in family(child):
            roles[process] = "helper" if helps(process) else name
    return roles


def _parent(process: int) -> int:
    try:
        return int(Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()[1])
    except (FileNotFoundError, ProcessLookupError):
        return 0


def _count(process: int, what: str) -> int:
    return sum(1 for _ in Path(f"/proc/{process}/{what}").iterdir())
