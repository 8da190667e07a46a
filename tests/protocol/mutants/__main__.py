"""`python -m tests.protocol.mutants`: how many mutants, how many each rule stops, who lives and why."""

from __future__ import annotations

import sys
from collections import Counter

from tests.protocol.mutants.judge import judged, killed_by_rule
from tests.protocol.mutants.ledger import reasons
from tests.protocol.mutants.patients import judged_patients


def report() -> str:
    every = (*judged(), *judged_patients())
    living = [one.mutant for one in every if one.survived]
    rows = [
        f"{len(every)} mutants, {len(every) - len(living)} stopped, {len(living)} live",
        "",
        "rule    stopped  by it alone",
    ]
    rows += [f"{rule:8}{count:7}{alone:13}" for rule, (count, alone) in killed_by_rule().items()]
    found = reasons(living)
    counted = Counter(lines[0] for lines in found.values() if lines)
    rows += ["", "live, by reason:"]
    rows += [f"{count:5}  {line}\n       {line.because}" for line, count in counted.most_common()]
    bare = [str(mutant) for mutant, lines in found.items() if not lines]
    return "\n".join([*rows, "", f"live without a reason: {len(bare)}", *bare]) + "\n"


if __name__ == "__main__":
    sys.stdout.write(report())
