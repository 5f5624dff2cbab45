"""The repository itself: nothing of any one machine in it, one-way layers, public names that resolve."""

from __future__ import annotations

import importlib
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import wallwright

ROOT = Path(__file__).parent.parent
LOCKS = ("requirements.lock", "requirements-test.lock", "frontend/package-lock.json")

# Written in pieces, so that this file does not find itself.
FORBIDDEN = {
    "a package registry": re.compile(
        r"(files\.pythonhosted|pypi)\."
        + r"org|registry\.(npmjs|yarnpkg)\.|deb\."
        + r"debian\.org|index-url\s*[=:]",
        re.IGNORECASE,
    ),
    "a path of one machine": re.compile(
        r"(?<![\w.])/(work|home|root|Users|opt|mnt)" + r"/[\w.]+|[A-Z]:\\" + r"\\?Users"
    ),
    "a credential": re.compile(
        r"-----BEGIN [A-Z ]*PRIVATE" + r" KEY|AKIA[0-9A-Z]{16}|\bgh[pousr]_[A-Za-z0-9]{30,}|_auth(Token)?\s*="
        r"|://[^/\s:@{}<>\"']+:[^/\s@{}<>\"']+@"
    ),
}


def tracked() -> list[Path]:
    """Every file that git tracks or would add; all that is left out by .gitignore does not count."""
    done = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


def offences(text: str) -> list[str]:
    """What of the forbidden stands in this text: `kind: match`."""
    return [f"{kind}: {m[0]}" for kind, pattern in FORBIDDEN.items() for m in pattern.finditer(text)]


@pytest.mark.parametrize(
    "text",
    [
        "see https://pypi." + "org/simple",
        "https://registry." + "npmjs.org/vite",
        "--extra-index-url" + " = x",
        "open('/ho" + "me/someone/job.toml')",
        "cd /wo" + "rk/main",
        "-----BEGIN RSA PRIVATE" + " KEY-----",
        "//host/:_auth" + "Token=abc",
        "postgresql://user:secret" + "@host/db",
    ],
)
def test_the_search_finds_what_it_is_for(text: str) -> None:
    assert offences(text)


@pytest.mark.parametrize(
    "text", ["/usr/bin/chromium", "src/work/main", "http://127.0.0.1:8000/", "either/or", "a:b@c"]
)
def test_the_search_lets_plain_things_pass(text: str) -> None:
    assert not offences(text)


def test_no_registry_machine_path_or_credential_in_any_file() -> None:
    found: dict[str, list[str]] = {}
    for file in tracked():
        text = file.read_bytes().decode("utf-8", errors="replace")
        if wrong := offences(text):
            found[str(file.relative_to(ROOT))] = wrong
    assert not found


@pytest.mark.parametrize("name", LOCKS)
def test_locks_hold_no_address(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text
    assert "resolved" not in text
    # ...and are locks: every package has an exact version and a hash.
    if name.endswith(".lock"):
        packages = re.findall(r"^[\w.-]+(?:\[[\w,]+\])?==\S+", text, re.MULTILINE)
        assert packages
        for block in re.split(r"\n(?=[A-Za-z])", text.strip()):
            assert re.match(r"[\w.-]+(\[[\w,]+\])?==\S+", block) and "--hash=sha256:" in block, block[:80]
    else:
        assert text.count('"integrity"') > 50


def test_every_declared_dependency_is_locked() -> None:
    """Someone who adds a dependency and forgets `make lock` hears of it here, not on a clean machine."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    for lock, wanted in (
        ("requirements.lock", project["dependencies"]),
        ("requirements-test.lock", project["dependencies"] + extras["test"]),
    ):
        lines = (ROOT / lock).read_text(encoding="utf-8").splitlines()
        locked = {
            re.split(r"[\[=]", line)[0].lower().replace("_", "-") for line in lines if re.match(r"\w", line)
        }
        names = {re.split(r"[\[<>=!~; ]", want)[0].lower().replace("_", "-") for want in wanted}
        assert names <= locked, names - locked


def test_test_lock_agrees_with_the_lock() -> None:
    def versions(name: str) -> set[str]:
        lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
        return {line.rstrip(" \\") for line in lines if re.match(r"[\w.-]+(\[[\w,]+\])?==", line)}

    assert {re.sub(r"\[.*?\]", "", v) for v in versions("requirements.lock")} <= {
        re.sub(r"\[.*?\]", "", v) for v in versions("requirements-test.lock")
    }


def test_layers_hold() -> None:
    """The contracts of pyproject.toml: one way through the house, no web below the studio."""
    program = Path(sys.executable).parent / "lint-imports"
    if not program.is_file():
        pytest.skip("import-linter is not installed")
    done = subprocess.run([str(program), "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_package_is_importable_alone() -> None:
    """`import wallwright` pulls in none of the heavy packages, and none of its own rooms."""
    code = "import sys; old = set(sys.modules); import wallwright; print(*sorted(set(sys.modules) - old))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = done.stdout.split()
    assert "wallwright" in loaded
    assert [name for name in loaded if name.split(".")[0] not in sys.stdlib_module_names] == ["wallwright"]


@pytest.mark.parametrize("name", sorted(wallwright.PUBLIC))
def test_public_names_resolve(name: str) -> None:
    module, _, attribute = wallwright.PUBLIC[name].partition(":")
    loaded = importlib.import_module(module)  # binds the submodule in the package first, the awkward order
    assert getattr(wallwright, name) is (getattr(loaded, attribute) if attribute else loaded)
    assert name in dir(wallwright)


def test_a_name_that_is_not_public_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'spirit_level'"):
        _ = wallwright.spirit_level  # type: ignore[attr-defined]


@pytest.mark.parametrize("early", ["", "import sample.derive\n"])
def test_a_public_function_may_share_its_files_name(tmp_path: Path, early: str) -> None:
    """Whether or not the submodule was imported before, `package.derive` is the function."""
    package = tmp_path / "sample"
    package.mkdir()
    front = Path(wallwright.__file__).read_text(encoding="utf-8")
    table = 'PUBLIC = {"derive": "sample.derive:derive", "edits": "sample.edits"}'
    front, changed = re.subn(r"^PUBLIC: [^\n]*?= \{.*?\}$", table, front, flags=re.MULTILINE | re.DOTALL)
    assert changed == 1
    (package / "__init__.py").write_text(front, encoding="utf-8")
    (package / "derive.py").write_text("def derive():\n    return 'a wall'\n", encoding="utf-8")
    (package / "edits.py").write_text("kind = 'edits'\n", encoding="utf-8")
    code = f"{early}import sample\nprint(sample.derive(), sample.edits.kind)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.stdout.strip() == "a wall edits", done.stderr
