"""Each folder says in a README.md what lives there and what may enter; no source file is longer than 500 lines."""
import re

from tree import files, folders, write

# Folders that hold only pictures for the folder above, and the one script an automatic run calls.
WITHOUT = {"docs/pictures", ".ci"}
# Folders that hold one thing each of a kind that the folder above explains.
KINDS = re.compile(r"tests/[a-z]+(/data)?|src/[a-z]+/assets")
LONGEST = 500


def problems(root, build=None):
    found = []
    for folder in folders(root):
        where = folder.relative_to(root).as_posix()
        if where in WITHOUT or KINDS.fullmatch(where) or not any(p.is_file() for p in folder.iterdir()):
            continue
        readme = folder / "README.md"
        if (folder / "PROVENANCE.md").exists():  # data from elsewhere: where it is from says what lives here
            readme = folder / "PROVENANCE.md"
        if not readme.exists():
            found.append(f"{where}: no README.md")
        elif len(readme.read_text(encoding="utf-8").split()) < 8:
            found.append(f"{where}/README.md: says too little")
    for path in files(root, ".cpp", ".hpp", ".py", ".js", ".mjs", ".sh", ".css", ""):
        lines = path.read_bytes().count(b"\n")
        if lines > LONGEST and path.suffix:
            found.append(f"{path.relative_to(root)}: {lines} lines, more than {LONGEST}")
    return found


SAYS = "# shed\n\nWhat lives here: spades. May enter: other tools with a handle.\n"
TWINS = [
    ("a clean folder", lambda r: (write(r / "README.md", SAYS), write(r / "shed/README.md", SAYS), write(r / "shed/a.cpp", "")), None),
    ("a room's tests, which tests/README.md explains", lambda r: (write(r / "README.md", SAYS), write(r / "tests/README.md", SAYS),
                                                                 write(r / "tests/shed/a.cpp", "")), None),
    ("a folder without one", lambda r: (write(r / "README.md", SAYS), write(r / "shed/a.cpp", "")), "shed: no README.md"),
    ("an empty one", lambda r: (write(r / "README.md", SAYS), write(r / "shed/README.md", "# shed\n")), "says too little"),
    ("a long file", lambda r: (write(r / "README.md", SAYS), write(r / "a.cpp", "\n" * 501)), "501 lines"),
]
