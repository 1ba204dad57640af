"""`python -m tests.mutants`: 200 small faults, each against the tests that come to its line. Ends with 1 below nine in ten.

`--many 40` takes fewer, `--seed X` others, `--room pages` those of one room, `--named "path function kind"` those whose name
begins so; `--survivors` prints in the form of `judged.toml`; `--from FOLDER` takes what was recorded there as it is.
"""

from __future__ import annotations

import argparse
import signal
import sys
import time
from collections import Counter
from pathlib import Path

from tests.mutants import children, covered, judged, trial
from tests.mutants.mutants import Mutant, all_of, sample
from tests.mutants.rooms import ROOMS, files

MANY = 200
SEED = "1"
AT_ONCE = 2
BAR = 0.9


def _wanted(told: argparse.Namespace, root: Path) -> list[Mutant]:
    if told.named:
        every = [each for path, room in files(root).items() for each in all_of(root, path, room)]
        return [each for each in every if each.name.startswith(tuple(told.named))]
    return sample(root, told.many, told.seed, told.room)


def _told(verdict: trial.Verdict, number: int, many: int) -> None:
    mutant = verdict.mutant
    asked = f"{verdict.tests} of {verdict.reaching} tests, {verdict.seconds:.0f} s"
    print(f"{number}/{many} {verdict.end}: {mutant.room}: {mutant.name} ({asked}) {verdict.by}", flush=True)


def _survivors(verdicts: list[trial.Verdict], root: Path, as_toml: bool) -> int:
    """Print them, with what was thought of each; how many nobody can tell from the source."""
    known = judged.judgements(root)
    counted: Counter[str] = Counter()
    for verdict in verdicts:
        if verdict.caught:
            continue
        diff = verdict.mutant.diff((root / verdict.mutant.path).read_bytes())
        thought = known.get((verdict.mutant.name, judged.spaceless(diff)))
        counted[thought.word if thought else "not judged"] += 1
        if as_toml and not thought:
            print(
                f"\n[[judged]]\nmutant = '{verdict.mutant.name}'\ndiff = '''\n{diff}\n'''\nword = ''\nwhy = ''"
            )
        else:
            judgement = f"{thought.word}: {thought.why}" if thought else "not judged yet"
            print(f"\n{verdict.end}: {verdict.mutant.name}\n{diff}\n  {judgement}")
    print("\nSurvivors:", ", ".join(f"{many} {word}" for word, many in counted.most_common()) or "none")
    return counted["equivalent"]


def _summary(verdicts: list[trial.Verdict], equivalent: int, took_s: float) -> bool:
    for room in ROOMS:
        ends = Counter(each.end for each in verdicts if each.mutant.room == room)
        print(f"{room:8}", ", ".join(f"{many} {end}" for end, many in ends.most_common()))
    caught = sum(each.caught for each in verdicts)
    print(
        f"{caught} of {len(verdicts)} killed ({caught / len(verdicts):.0%}) in {took_s / 60:.0f} minutes;",
        end=" ",
    )
    print(f"without {equivalent} equivalent ones {caught / max(1, len(verdicts) - equivalent):.0%}.")
    return caught >= BAR * len(verdicts)


def _run(told: argparse.Namespace, root: Path) -> bool:
    with trial.copies(root, AT_ONCE) as places:
        if told.recorded:
            known = covered.Covered()
            known.take(Path(told.recorded))
        else:
            known = covered.brought_up_to_date(root, places[0])
        start = time.monotonic()
        mutants = _wanted(told, places[0])
        children.prepare()
        verdicts: list[trial.Verdict] = []
        with trial.server(places[0]) as url:
            for verdict in trial.tried(mutants, known, places, url, told.budget):
                verdicts.append(verdict)
                _told(verdict, len(verdicts), len(mutants))
            lying = trial.alone(sorted({each.by for each in verdicts if each.by}), places[0], url)
        for each in sorted(lying):
            print(f"Fails without a fault as well, so it has told nothing: {each}")
        verdicts = [trial.without_witness(each) if each.by in lying else each for each in verdicts]
        equivalent = _survivors(verdicts, places[0], told.survivors)
        for name in judged.gone(places[0]):
            print(f"Judged, and there no more: {name}")
    return _summary(verdicts, equivalent, time.monotonic() - start)


def main() -> int:
    """Run it."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--many", type=int, default=MANY)
    parser.add_argument("--seed", default=SEED)
    parser.add_argument("--room", choices=list(ROOMS), default="")
    parser.add_argument("--named", action="append")
    parser.add_argument("--survivors", action="store_true")
    parser.add_argument("--from", dest="recorded")
    parser.add_argument(
        "--budget", type=float, default=trial.BUDGET_S, help="seconds of tests for one mutant"
    )
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that children end, and the server
    return 0 if _run(parser.parse_args(), Path.cwd()) else 1


if __name__ == "__main__":
    sys.exit(main())
