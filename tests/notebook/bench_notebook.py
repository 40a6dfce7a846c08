"""How quick the notebook is with many batches in it.

Run: python -m tests.notebook.bench_notebook [batches]. Aims at 100,000: save 20 ms; best, show and search 50 ms.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from statistics import median

from msgspec.structs import replace

from assistant.notebook import Batch, Notebook, Part
from tests.notebook.samples import FRIDAY, SUPPER

CUTS = ("chuck", "round", "brisket", "brisket trim", "short rib", "pork shoulder", "fatback", "lamb shoulder", "suet")
PLACES = ("boathouse", "island", "weir", "lock", "bridge", "meadow")


def pile(count: int) -> Iterator[Batch]:
    """Many different suppers over many years, a third of them rated."""
    chance = random.Random(1)
    for number in range(1, count + 1):
        cuts = chance.sample(CUTS, 3)
        yield replace(
            SUPPER,
            id=number,
            name=f"{chance.choice(PLACES)} supper {number}",
            parts=tuple(Part(cut, Fraction(chance.randrange(1, 9999), 7), Fraction(20)) for cut in cuts),
            rating=Fraction(chance.randrange(11), 2) if number % 3 == 0 else None,
            saved_at=FRIDAY + timedelta(hours=number),
            tags=(chance.choice(PLACES),),
        )


def timed(name: str, call: Callable[[], object], times: int = 15) -> None:
    """Print median and worst of some calls, in milliseconds."""
    spent = []
    for _ in range(times):
        began = time.perf_counter()
        call()
        spent.append(1000 * (time.perf_counter() - began))
    print(f"{name:42}{median(spent):9.2f}{max(spent):9.2f}", flush=True)


def opened_and_read(path: Path) -> None:
    """What a one-shot request pays."""
    with Notebook(path) as notebook:
        notebook.last()


def main(count: int) -> None:
    """Fill a notebook, and print what the everyday calls cost."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "notebook.db"
        began = time.perf_counter()
        with Notebook(path) as notebook:
            notebook.take_in(pile(count), (), {}, ())
            size = path.stat().st_size / 1e6
            print(f"{count} batches taken in at once: {time.perf_counter() - began:.1f} s, {size:.0f} MB")
            print(f"{'call':42}{'median':>9}{'worst':>9}  ms")
            timed("open and read the last batch", lambda: opened_and_read(path))
            timed("save", lambda: notebook.save(SUPPER))
            timed("save, always the same name", lambda: notebook.save(replace(SUPPER, name="same")))
            timed("rate", lambda: notebook.rate("same", Fraction(4)))
            timed("undo_last", notebook.undo_last)
            timed("best(5)", lambda: notebook.best(5))
            timed("last(10)", lambda: notebook.last(10))
            timed("get, whole name", lambda: notebook.get("regatta supper"))
            timed("get, beginning of a name", lambda: notebook.get("regat"))
            timed("get, name that is not there", lambda: not_there(notebook))
            timed("search, common word (50 newest)", lambda: notebook.search("chuck"))
            timed("search, three words", lambda: notebook.search("weir short rib"))
            timed("search, word that is nowhere", lambda: notebook.search("venison"))
            timed("between two days", lambda: notebook.between(date(2026, 9, 1), date(2026, 9, 2)))
            timed("names (500 newest)", notebook.names)
            timed("count", notebook.count)
            timed("check everything", notebook.check, times=1)


def not_there(notebook: Notebook) -> None:
    """Ask for what is not in it."""
    from assistant.notebook import NoSuchBatch

    try:
        notebook.get("zander supper")
    except NoSuchBatch:
        return
    raise AssertionError("found what is not there")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
