"""docs/hazards: every page has its parts in order, stands in the index, and names only findings and files that exist."""
import re

from tree import files, write

PARTS = ["Cause", "Hazard", "Harm", "Severity", "Likelihood", "Controls", "Tests", "Residual", "Status"]


def problems(root, build=None):
    folder, found = root / "docs/hazards", []
    pages = sorted(folder.glob("H-*.md")) if folder.is_dir() else []
    if not pages:
        return ["docs/hazards: no hazard found"]
    index = (folder / "README.md").read_text(encoding="utf-8") if (folder / "README.md").exists() else ""
    codes, flags = set(), set()
    for path in files(root / "reference", ".toml") if (root / "reference").is_dir() else []:
        rows = path.read_text(encoding="utf-8")
        codes |= set(re.findall(r'^code\s*=\s*"([A-Z0-9_]+)"', rows, re.M))
        flags |= set(re.findall(r'^code = "([A-Z0-9_]+)"\nlevel = "(?:emergency|call_vet|act)"\nlimit', rows, re.M))
    for path in files(root / "src", ".cpp", ".hpp") if (root / "src").is_dir() else []:
        codes |= set(re.findall(r'"([A-Z][A-Z0-9_]{3,})"', path.read_text(encoding="utf-8")))
    free = set()  # the index may keep a range free, for rooms still to come
    for first, last in re.findall(r"H-(\d{3}) to H-(\d{3}) are kept free", index):
        free |= set(range(int(first), int(last) + 1))
    there = {int(page.stem[2:]) for page in pages}
    found += [f"numbers go up by one and are never taken away; H-{n:03} is missing"
              for n in range(1, max(there)) if n not in there | free]
    for page in pages:
        text, name = page.read_text(encoding="utf-8"), page.name
        if re.findall(r"^- \*\*(\w+):\*\*", text, re.M) != PARTS:
            found.append(f"{name}: its parts should be {', '.join(PARTS)}")
        if f"({name})" not in index:
            found.append(f"{name}: not in the index")
        if not re.search(r"^- \*\*Status:\*\* (?:open|closed)\b", text, re.M):
            found.append(f"{name}: the status is open or closed")
        found += [f"{name}: no such finding: {code}" for code in re.findall(r"`([A-Z][A-Z0-9_]{3,})`", text) if code not in codes]
        found += [f"{name}: no such file: {path}" for path in re.findall(r"`((?:tests|demo|src|docs)/[\w./-]+)`", text)
                  if not (root / path).exists()]
    named = "".join(page.read_text(encoding="utf-8") for page in pages)
    found += [f"{code}: acts, and no hazard names it" for code in sorted(flags) if f"`{code}`" not in named]
    return found


PAGE = "# H-001 x\n\n" + "".join(f"- **{p}:** open\n" for p in PARTS)


def _tree(root, page=PAGE, index="[H-001](H-001.md)", name="H-001.md", rules=""):
    write(root / "docs/hazards" / name, page)
    write(root / "docs/hazards/README.md", index)
    write(root / "reference/a.toml", 'code = "BOX_HOT"\n' + rules)


TWINS = [
    ("a clean page", lambda r: _tree(r, PAGE.replace("Cause:** open", "Cause:** `BOX_HOT`, `docs/hazards`")), None),
    ("a part left out", lambda r: _tree(r, PAGE.replace("- **Residual:** open\n", "")), "its parts should be"),
    ("a finding that is not", lambda r: _tree(r, PAGE + "`BOX_WARM`"), "no such finding: BOX_WARM"),
    ("a test that is not", lambda r: _tree(r, PAGE + "`tests/box`"), "no such file: tests/box"),
    ("not in the index", lambda r: _tree(r, index=""), "not in the index"),
    ("a rule that acts and has no hazard", lambda r: _tree(r, rules='code = "PUP_LOST"\nlevel = "act"\nlimit = 1\n'), "no hazard names it"),
    ("a number left out", lambda r: _tree(r, index="(H-002.md)", name="H-002.md"), "H-001 is missing"),
    ("a number kept free", lambda r: _tree(r, index="(H-002.md) H-001 to H-001 are kept free", name="H-002.md"), None),
    ("no status", lambda r: _tree(r, PAGE.replace("Status:** open", "Status:** maybe")), "open or closed"),
    ("no hazards", lambda r: None, "no hazard found"),
]
