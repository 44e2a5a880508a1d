"""The documents are true: links lead somewhere, commands exist, what was generated is not stale."""

import json
import re
import runpy
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from app import commandline
from shop.samples import sample_names

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"
PICTURES = DOCS / "pictures"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.glob("*.md"))]
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
PATH = re.compile(r"`((?:app|docs|export|geometry|samples|shop|tests)/[\w./-]*)`")


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def links(page: Path) -> Iterator[str]:
    return (found.group(1) for found in LINK.finditer(page.read_text(encoding="utf-8")))


def anchors(page: Path) -> set[str]:
    """Return the anchors of a page's headings, as the usual readers of Markdown make them."""
    heads = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_every_link_leads_to_a_file_and_every_anchor_to_a_heading(page: Path) -> None:
    for link in links(page):
        if link.startswith(("https://", "http://")):
            continue
        file, _, anchor = link.partition("#")
        target = (page.parent / file).resolve() if file else page
        assert target.is_file(), f"{name(page)} links to {link}, which is not there"
        assert not anchor or anchor in anchors(target), f"{name(page)}: no heading for {link}"


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_every_file_that_a_page_names_is_there(page: Path) -> None:
    for found in PATH.finditer(page.read_text(encoding="utf-8")):
        assert (ROOT / found.group(1)).exists(), f"{name(page)} names {found.group(1)}"


def test_every_picture_is_shown_somewhere_and_none_is_heavy() -> None:
    shown = {(page.parent / link).resolve() for page in PAGES for link in links(page)}
    pictures = [path for path in PICTURES.iterdir() if path.suffix in (".png", ".svg")]
    assert pictures
    assert {path.name for path in pictures if path not in shown} == set()
    sizes = [path.stat().st_size for path in pictures]
    assert max(sizes) < 150_000
    assert sum(sizes) < 2_000_000


def test_the_keyboard_sheet_is_what_the_actions_say() -> None:
    made = runpy.run_path(str(DOCS / "make_pictures.py"))["keyboard_page"]()
    kept = (DOCS / "keyboard.md").read_text(encoding="utf-8")
    assert kept == made, "Run docs/make_pictures.py: docs/keyboard.md is stale."


def test_every_module_that_outside_checks_live_in_is_listed() -> None:
    listed = (DOCS / "checks.md").read_text(encoding="utf-8")
    modules = sorted((ROOT / "tests" / "reference").glob("test_*.py"))
    assert modules
    assert [name(path) for path in modules if name(path) not in listed] == []


def commands(page: Path) -> Iterator[list[str]]:
    """Return the commands in a page's code blocks as words."""
    text = page.read_text(encoding="utf-8")
    for block in re.findall(r"^```\w*\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        for line in block.splitlines():
            words = shlex.split(line.split("  ")[0].split(" # ")[0], posix=False)
            if words and words[0] in ("facedown", "python3"):
                yield words


def test_the_commands_of_dev_py_that_pages_name_exist() -> None:
    known = set(re.findall(r'"(\w+)": \w+', (ROOT / "dev.py").read_text(encoding="utf-8")))
    named = [words for page in PAGES for words in commands(page) if words[0] == "python3"]
    assert ["python3", "dev.py", "run"] in named
    assert ["python3", "dev.py", "test"] in named
    for words in named:
        assert words[1] == "dev.py"
        assert words[2] in known


def test_the_commands_of_facedown_that_pages_name_are_understood(
    capsys: pytest.CaptureFixture[str],
) -> None:
    named = {tuple(w) for page in PAGES for w in commands(page) if w[0] == "facedown"}
    asked = {words[1] for words in named if len(words) > 1 and words[1].islower()}
    commandline.run(["--help"])
    assert asked == set(re.findall(r"^    (\w+) ", capsys.readouterr().out, re.MULTILINE))
    for command in sorted(asked):
        assert commandline.run([command, "--help"]) == 0
        usage = capsys.readouterr().out
        for words in named:
            if words[1:2] == (command,):
                options = re.findall(r"--\w+", " ".join(words))
                assert all(option in usage for option in options), words


def test_the_readme_names_every_sample_and_shop_file() -> None:
    from export.shopfiles import SHOP_FILES

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    names = [*sample_names(), *(file.name for file in SHOP_FILES)]
    assert [each for each in names if f"`{each}`" not in readme] == []


def test_the_schema_beside_the_job_format_is_json() -> None:
    assert json.loads((DOCS / "job.schema.json").read_text(encoding="utf-8"))
