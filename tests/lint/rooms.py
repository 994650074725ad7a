"""docs/rooms.md, its drawing, the #include lines of src/ and the CMake files say the same."""
import re

from tree import files, write

ROW = re.compile(r"^\| `([a-z]+)` \|[^|]*\| ([^|]*) \| (yes|no) \|$", re.M)
ARROW = re.compile(r"^  ([a-z]+) --> ([a-z]+)$", re.M)
INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"', re.M)
USES = re.compile(r"lampside_room\(([a-z]+)(?:\s+USES\s+([a-z_ ]+?))?\s*(?:LIBS[^)]*)?\)")


def table(root):
    """room -> (rooms it may include, whether it is core)."""
    page = (root / "docs/rooms.md").read_text(encoding="utf-8")
    return {room: (set(re.findall(r"`([a-z]+)`", uses)), core == "yes") for room, uses, core in ROW.findall(page)}


def reach(rooms, room):
    """All rooms that `room` may include, through others too."""
    out, ask = set(), [room]
    while ask:
        for other in rooms.get(ask.pop(), (set(), False))[0] - out:
            out.add(other)
            ask.append(other)
    return out


def problems(root, build=None):
    rooms, found = table(root), []
    if len(rooms) < 2:
        return ["docs/rooms.md: no table of rooms found"]
    drawn = set(ARROW.findall((root / "docs/rooms.md").read_text(encoding="utf-8")))
    told = {(room, other) for room, (uses, _) in rooms.items() for other in uses}
    found += [f"docs/rooms.md: drawn but not in the table: {a} --> {b}" for a, b in sorted(drawn - told)]
    found += [f"docs/rooms.md: in the table but not drawn: {a} --> {b}" for a, b in sorted(told - drawn)]
    found += [f"docs/rooms.md: {room} reaches itself" for room in rooms if room in reach(rooms, room)]
    there = {p.name for p in (root / "src").iterdir() if p.is_dir()}
    found += [f"src/{room}: not in the table of docs/rooms.md" for room in sorted(there - rooms.keys())]
    found += [f"docs/rooms.md: there is no src/{room}" for room in sorted(rooms.keys() - there)]
    for room in sorted(there & rooms.keys()):
        allowed = reach(rooms, room) | {room}
        for path in files(root / "src" / room, ".cpp", ".hpp", ".h"):
            where = path.relative_to(root)
            for name in INCLUDE.findall(path.read_text(encoding="utf-8")):
                other = name.split("/")[0]
                if name.endswith(".inc"):
                    continue  # rows made at build time for this one file
                if "/" not in name or ".." in name:
                    found.append(f'{where}: #include "{name}" should name its room: "{room}/{name.split("/")[-1]}"')
                elif other in rooms and other not in allowed:
                    found.append(f"{where}: {room} may not include {name}")
        cmake = root / "src" / room / "CMakeLists.txt"
        for name, uses in USES.findall(cmake.read_text(encoding="utf-8")) if cmake.exists() else []:
            for other in (uses or "").split():
                if other in rooms and other not in allowed:
                    found.append(f"src/{room}/CMakeLists.txt: {name} may not use {other}")
    return found


PAGE = """| room | holds | may include | core |
|---|---|---|---|
| `low` | x | - | yes |
| `left` | x | `low` | yes |
| `right` | x | `low` | yes |
| `top` | x | `left`, `right` | no |

  left --> low
  right --> low
  top --> left
  top --> right
"""


def _tree(root, page=PAGE, **sources):
    write(root / "docs/rooms.md", page)
    for room in ("low", "left", "right", "top"):
        write(root / f"src/{room}/{room}.cpp", sources.get(room, f'#include "{room}/{room}.hpp"\n'))
        write(root / f"src/{room}/CMakeLists.txt", sources.get(room + "_cmake", f"lampside_room({room})\n"))


TWINS = [
    ("a clean tree, including through another room", lambda r: _tree(r, top='#include "low/low.hpp"\n'), None),
    ("a sideways include", lambda r: _tree(r, left='#include "right/right.hpp"\n'), "left may not include right/right.hpp"),
    ("an upward include", lambda r: _tree(r, low='  # include "top/top.hpp"\n'), "low may not include top/top.hpp"),
    ("an include by a relative path", lambda r: _tree(r, left='#include "../right/right.hpp"\n'), "should name its room"),
    ("a sideways link", lambda r: _tree(r, left_cmake="lampside_room(left USES low right LIBS x::y)\n"), "left may not use right"),
    ("a drawn arrow without a row", lambda r: _tree(r, PAGE + "  left --> right\n"), "drawn but not in the table"),
    ("a row without its arrow", lambda r: _tree(r, PAGE.replace("  top --> left\n", "")), "in the table but not drawn"),
    ("a room without a row", lambda r: (_tree(r), write(r / "src/shed/shed.cpp", "")), "src/shed: not in the table"),
    ("a circle", lambda r: _tree(r, PAGE.replace("| `low` | x | - |", "| `low` | x | `left` |")), "low reaches itself"),
    ("no table at all", lambda r: _tree(r, "nothing"), "no table of rooms"),
]
